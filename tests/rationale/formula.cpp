#include "rationale/formula.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace lagline {
namespace {

struct NoFormula : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Reads an expression by recursive descent; products written side by side bind as "x" does.
class Evaluator {
  public:
    Evaluator(std::string_view text, const SymbolValue& symbol) : text_(text), symbol_(symbol) {}

    double whole() {
        const double value = sum();
        if (peek() != '\0') throw NoFormula{"more behind it"};
        return value;
    }

  private:
    char peek() {
        while (at_ < text_.size() && text_[at_] == ' ') ++at_;
        return at_ < text_.size() ? text_[at_] : '\0';
    }
    bool take(char c) {
        if (peek() != c) return false;
        ++at_;
        return true;
    }
    static bool is(int (*kind)(int), char c) { return kind(static_cast<unsigned char>(c)) != 0; }

    double sum() {
        double value = product();
        for (;;) {
            if (take('+')) {
                value += product();
            } else if (take('-')) {
                value -= product();
            } else {
                return value;
            }
        }
    }

    double product() {
        double value = power();
        for (;;) {
            const char next = peek();
            if (take('/')) {
                value /= power();
            } else if (next == 'x' && !is(std::isalnum, after(1)) && after(1) != '_') {
                ++at_;
                value *= power();
            } else if (next == '(' || is(std::isalnum, next)) {
                value *= power();
            } else {
                return value;
            }
        }
    }

    double power() {
        if (take('-')) return -power();
        const double base = factor();
        return take('^') ? std::pow(base, power()) : base;
    }

    double factor() {
        if (take('(')) return close(sum());
        if (is(std::isdigit, peek())) return number();
        const std::string name = word();
        if (name == "max" || name == "min") return extreme(name);
        if (name == "exp") return std::exp(argument());
        if (name == "sqrt") return std::sqrt(argument());
        if (name == "Phi") return std::erfc(-argument() / std::sqrt(2.0)) / 2.0;
        const auto value = symbol_(name);
        if (!value) throw NoFormula{"no number for " + name};
        return *value;
    }

    double extreme(const std::string& name) {
        if (!take('(')) throw NoFormula{"no bracket"};
        double value = sum();
        while (take(',')) {
            const double other = sum();
            value = name == "max" ? std::max(value, other) : std::min(value, other);
        }
        return close(value);
    }

    double argument() {
        if (!take('(')) throw NoFormula{"no bracket"};
        return close(sum());
    }

    double close(double value) {
        if (!take(')')) throw NoFormula{"no closing bracket"};
        return value;
    }

    double number() {
        std::size_t used = 0;
        const double value = std::stod(std::string{text_.substr(at_)}, &used);
        at_ += used;
        return value;
    }

    std::string word() {
        peek();
        const std::size_t from = at_;
        while (at_ < text_.size() && (is(std::isalnum, text_[at_]) || text_[at_] == '_')) ++at_;
        if (at_ == from) throw NoFormula{"no symbol"};
        return std::string{text_.substr(from, at_ - from)};
    }

    [[nodiscard]] char after(std::size_t more) const {
        return at_ + more < text_.size() ? text_[at_ + more] : '\0';
    }

    std::string_view text_;
    const SymbolValue& symbol_;
    std::size_t at_ = 0;
};

}  // namespace

std::optional<double> value_of(std::string_view formula, const SymbolValue& symbol) {
    if (const auto at = formula.find(" = "); at != std::string_view::npos) {
        formula.remove_prefix(at + 3);
    }
    constexpr std::string_view over_states = "sum of ";
    constexpr std::string_view states = "123";
    try {
        if (!formula.starts_with(over_states)) return Evaluator{formula, symbol}.whole();
        formula.remove_prefix(over_states.size());
        // A divisor behind the sum divides each of its terms.
        double sum = 0.0;
        for (const char state : states) {
            const SymbolValue of_state = [&](std::string_view name) {
                if (!name.ends_with("_k")) return symbol(name);
                std::string one{name};
                one.back() = state;
                return symbol(one);
            };
            sum += Evaluator{formula, of_state}.whole();
        }
        return sum;
    } catch (const NoFormula&) {
        return std::nullopt;
    } catch (const std::invalid_argument&) {
        return std::nullopt;
    }
}

}  // namespace lagline
