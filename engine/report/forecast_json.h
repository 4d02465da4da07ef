#pragma once

#include "ranking/forecast.h"
#include "report/json_writer.h"

namespace lagline {

/// Members of the object that is open: minimum thickness, due dates and points of one curve.
void write_curve(JsonWriter& json, const Forecast& ahead, const ForecastCurve& curve);

}  // namespace lagline
