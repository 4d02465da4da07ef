#include <cmath>
#include <iostream>

#include "every_header.h"

int main() {
    using lagline::Dimension;
    const auto from = lagline::parse_unit("degF", Dimension::temperature);
    const auto to = lagline::parse_unit("degC", Dimension::temperature);
    if (!from || !to) return 1;
    const double value = lagline::convert(212.0, *from, *to);
    std::cout << "212 degF = " << std::round(value * 1e9) / 1e9 << " degC\n";
    return 0;
}
