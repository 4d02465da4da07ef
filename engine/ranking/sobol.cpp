#include "ranking/sobol.h"

#include <boost/random/sobol.hpp>
#include <numeric>
#include <utility>

namespace lagline {
namespace {

constexpr std::uint64_t golden_step = 0x9e3779b97f4a7c15U;

constexpr std::uint64_t mixed(std::uint64_t x) {
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9U;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebU;
    return x ^ (x >> 31);
}

constexpr std::uint32_t reversed(std::uint32_t x) {
    x = ((x >> 1) & 0x55555555U) | ((x & 0x55555555U) << 1);
    x = ((x >> 2) & 0x33333333U) | ((x & 0x33333333U) << 2);
    x = ((x >> 4) & 0x0f0f0f0fU) | ((x & 0x0f0f0f0fU) << 4);
    x = ((x >> 8) & 0x00ff00ffU) | ((x & 0x00ff00ffU) << 8);
    return (x >> 16) | (x << 16);
}

}  // namespace

SobolPoints::SobolPoints(std::size_t dimensions, std::size_t samples)
    : dimensions_(dimensions), samples_(samples), points_(dimensions * samples, 0) {
    if (dimensions == 0) return;
    boost::random::sobol engine(dimensions);
    // The engine leaves the origin out, without which the first points are no net.
    for (std::size_t i = 1; i < samples; ++i) {
        for (std::size_t d = 0; d < dimensions; ++d) {
            points_[d * samples + i] = static_cast<std::uint32_t>(engine() >> 32);
        }
    }
}

std::uint64_t draw_key(std::string_view text) {
    std::uint64_t hash = 0xcbf29ce484222325U;
    for (const char letter : text) {
        hash ^= static_cast<unsigned char>(letter);
        hash *= 0x100000001b3U;
    }
    return mixed(hash);
}

std::uint64_t draw_key(std::uint64_t first, std::uint64_t second) {
    return mixed(first + golden_step * (second | 1U) + (second >> 1));
}

std::uint32_t owen_scrambled(std::uint32_t x, std::uint32_t seed) {
    // Multiplication carries upwards only: on the reversed digits each is changed by those that
    // stand before it.
    x = reversed(x);
    x += seed;
    x ^= x * 0x6c50b47cU;
    x ^= x * 0xb82f1e52U;
    x ^= x * 0xc7afe638U;
    x ^= x * 0x8d22f6e6U;
    return reversed(x);
}

void keyed_permutation(std::uint64_t key, std::span<std::uint32_t> order) {
    std::iota(order.begin(), order.end(), 0U);
    for (std::size_t left = order.size(); left > 1; --left) {
        key += golden_step;
        const std::uint64_t draw = (mixed(key) >> 32) * left >> 32;
        std::swap(order[left - 1], order[draw]);
    }
}

}  // namespace lagline
