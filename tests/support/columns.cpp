#include "support/columns.h"

#include <algorithm>
#include <stdexcept>

#include "ranking/explain.h"

namespace lagline {

Numbers column(std::initializer_list<double> numbers) {
    Numbers made(static_cast<Eigen::Index>(numbers.size()));
    std::ranges::copy(numbers, made.data());
    return made;
}

ColumnView column_of(const Ranking& ranking, std::string_view key) {
    for (const ColumnView& each : ranking.views()) {
        if (each.info->key == key) return each;
    }
    throw std::out_of_range("no column " + std::string{key});
}

double number_of(const Plant& plant, const Ranking& ranking, std::string_view segment,
                 std::string_view key) {
    return column_of(ranking, key).numbers[find_row(plant, ranking, segment).value()];
}

std::string word_of(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                    std::string_view segment, std::string_view key) {
    const ColumnView found = column_of(ranking, key);
    const std::uint8_t code = found.codes[find_row(plant, ranking, segment).value()];
    return rules.vocabulary(found.info->words).words[code].key;
}

}  // namespace lagline
