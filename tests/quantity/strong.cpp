#include "quantity/strong.h"

#include <doctest/doctest.h>

#include <concepts>

using namespace lagline;

namespace {

template <class A, class B>
concept addable = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept subtractable = requires(A a, B b) {
    a - b;
};
template <class A, class B>
concept multipliable = requires(A a, B b) {
    a* b;
};
template <class A, class B>
concept divisible = requires(A a, B b) {
    a / b;
};
template <class A, class B>
concept comparable = requires(A a, B b) {
    a < b;
};

// What has a meaning compiles.
static_assert(std::same_as<decltype(DegCelsius{} - DegCelsius{}), KelvinStep>);
static_assert(std::same_as<decltype(DegCelsius{} + KelvinStep{}), DegCelsius>);
static_assert(std::same_as<decltype(DegCelsius{} - KelvinStep{}), DegCelsius>);
static_assert(std::same_as<decltype(MillimetresPerYear{} * Years{}), Millimetres>);
static_assert(std::same_as<decltype(Millimetres{} / MillimetresPerYear{}), Years>);

// What has none does not.
static_assert(!addable<DegCelsius, DegCelsius>);
static_assert(!addable<DegCelsius, double>);
static_assert(!addable<DegCelsius, Millimetres>);
static_assert(!subtractable<KelvinStep, DegCelsius>);
static_assert(!multipliable<DegCelsius, DegCelsius>);
static_assert(!multipliable<Millimetres, Years>);
static_assert(!divisible<Millimetres, Years>);
static_assert(!addable<Millimetres, MillimetresPerYear>);
static_assert(!addable<MegaPascals, GaugeMegaPascals>);
static_assert(!comparable<MegaPascals, GaugeMegaPascals>);
static_assert(!comparable<DegCelsius, KelvinStep>);
static_assert(!comparable<DegCelsius, double>);
static_assert(!comparable<Money, Money>);  // two currencies have no order
static_assert(!std::convertible_to<double, DegCelsius>);
static_assert(!std::convertible_to<DegCelsius, double>);
static_assert(!std::convertible_to<DegCelsius, KelvinStep>);
static_assert(!std::convertible_to<GaugeMegaPascals, MegaPascals>);

}  // namespace

TEST_CASE("the arithmetic of strong types") {
    CHECK((DegCelsius{93.0} - DegCelsius{20.0}) == KelvinStep{73.0});
    CHECK((DegCelsius{20.0} + KelvinStep{5.0}) == DegCelsius{25.0});
    CHECK((DegCelsius{20.0} - KelvinStep{5.0}) == DegCelsius{15.0});
    CHECK((MillimetresPerYear{0.25} * Years{4.0}) == Millimetres{1.0});
    CHECK((Millimetres{1.0} / MillimetresPerYear{0.25}) == Years{4.0});
}

TEST_CASE("is_currency_code knows the form of ISO 4217") {
    CHECK(is_currency_code("EUR"));
    CHECK_FALSE(is_currency_code("eur"));
    CHECK_FALSE(is_currency_code("EU"));
    CHECK_FALSE(is_currency_code("EURO"));
    CHECK_FALSE(is_currency_code("E1R"));
    CHECK_FALSE(is_currency_code(""));
}
