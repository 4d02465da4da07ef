#pragma once

namespace lagline {

/// A dead leg as an insulated fin: stagnant pipe that takes its heat from the header by conduction
/// along its wall and loses it through the insulation.
class DeadLeg {
  public:
    /// @param length_m        from the header to the blind end, > 0
    /// @param transmittance_w_per_m_k  linear transmittance of the insulated pipe U_l
    /// @param conductivity_w_per_m_k   of the metal
    /// @param metal_area_m2   cross-section of the pipe wall
    DeadLeg(double length_m, double transmittance_w_per_m_k, double conductivity_w_per_m_k,
            double metal_area_m2);

    /// Metal temperature [degC] at `station_m` from the header (eq. 32):
    /// T_a + (T_0 - T_a) cosh(m (L - x)) / cosh(m L), m^2 = U_l / (k A).
    /// @source fin with an insulated tip, e.g. Incropera, Fundamentals of Heat and Mass Transfer,
    ///   Table 3.4, case B
    [[nodiscard]] double temperature_degc(double station_m, double header_degc,
                                          double ambient_degc) const;

    /// Share of the header's excess over the air that is left at `station_m`:
    /// cosh(m (L - x)) / cosh(m L), the same for every temperature of the header.
    [[nodiscard]] double decay(double station_m) const;

    /// Station [m] where the metal has `metal_degc`; 0 or the length where that temperature is not
    /// passed.
    [[nodiscard]] double station_m(double metal_degc, double header_degc,
                                   double ambient_degc) const;

    [[nodiscard]] double length_m() const { return length_m_; }

  private:
    double length_m_;
    double m_per_m_;
};

}  // namespace lagline
