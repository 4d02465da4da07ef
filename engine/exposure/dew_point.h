#pragma once

namespace lagline {

/// Saturation pressure of water vapour over water [Pa] at `air_degc`.
/// @source Magnus form with the WMO constants 17.62, 243.12 degC and 6.112 hPa (eq. 24)
[[nodiscard]] double saturation_pressure_pa(double air_degc);

/// Dew point [degC] of air at `air_degc` with `humidity_percent` relative humidity, above 0 to 100.
/// Never above the air temperature.
/// @source the Magnus form solved for the temperature (eq. 25)
[[nodiscard]] double dew_point_degc(double air_degc, double humidity_percent);

}  // namespace lagline
