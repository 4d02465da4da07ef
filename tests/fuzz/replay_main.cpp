// Runs a fuzz target without libFuzzer, so that any compiler and every sanitizer build can: first
// the kept corpus as it is, then changed copies of it, drawn from a fixed seed, until the time is
// up.
//   replay_NAME CORPUS_DIR DICTIONARY SECONDS [SEED]
// It is not guided by what the target covers.  The input that ends a run is left in found-NAME.
#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#if defined(__SANITIZE_ADDRESS__)
#include <sanitizer/common_interface_defs.h>
#endif

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using Clock = std::chrono::steady_clock;

constexpr std::size_t longest = 262144;  // bytes of a changed input
constexpr double longest_run_seconds = 10;

std::string current;     // the input of the run that is on
std::string found_path;  // where it goes when the run ends the program

void keep_current() {
    if (std::FILE* file = std::fopen(found_path.c_str(), "wb")) {
        static_cast<void>(std::fwrite(current.data(), 1, current.size(), file));
        static_cast<void>(std::fclose(file));
        static_cast<void>(std::fprintf(stderr, "the input is in %s\n", found_path.c_str()));
    }
}

void on_signal(int) {
    keep_current();
    std::_Exit(1);
}

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// The words of a dictionary of libFuzzer: one in quotes on each line, with \\, \" and \xNN.
std::vector<std::string> words_of(const std::filesystem::path& path) {
    std::vector<std::string> words;
    std::ifstream file(path);
    for (std::string line; std::getline(file, line);) {
        const std::size_t from = line.find('"');
        const std::size_t to = line.rfind('"');
        if (from == std::string::npos || from == to) continue;
        std::string word;
        for (std::size_t i = from + 1; i < to; ++i) {
            if (line[i] != '\\') {
                word += line[i];
            } else if (line[i + 1] == 'x') {
                word += static_cast<char>(std::stoi(line.substr(i + 2, 2), nullptr, 16));
                i += 3;
            } else {
                word += line[++i];
            }
        }
        words.push_back(word);
    }
    return words;
}

/// Draws changed copies of the seeds.
class Changer {
  public:
    Changer(std::vector<std::string> seeds, std::vector<std::string> words, std::uint64_t seed)
        : seeds_(std::move(seeds)), words_(std::move(words)), engine_(seed) {}

    std::string next() {
        std::string text = seeds_[below(seeds_.size())];
        for (std::size_t changes = 1 + below(5); changes > 0; --changes) change(text);
        text.resize(std::min(text.size(), longest));
        return text;
    }

  private:
    std::size_t below(std::size_t count) { return engine_() % count; }
    std::size_t place(std::string_view text) { return below(text.size() + 1); }

    void change(std::string& text) {
        const std::size_t at = place(text);
        const std::size_t length = std::min(text.size() - at, std::size_t{1} << below(9));
        switch (below(7)) {
            case 0:
                if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << below(8)));
                break;
            case 1:
                text.insert(at, 1, static_cast<char>(below(256)));
                break;
            case 2:
                text.erase(at, length);
                break;
            case 3:
                text.insert(place(text), text.substr(at, length));
                break;
            case 4:
                text.replace(at, below(2) * length, a_word());
                break;
            case 5:
                change_number(text, at);
                break;
            default: {
                const std::string& other = seeds_[below(seeds_.size())];
                const std::size_t from = place(other);
                text.replace(at, length, other.substr(from, std::size_t{1} << below(9)));
            }
        }
    }
    std::string a_word() { return words_.empty() ? "0" : words_[below(words_.size())]; }
    void change_number(std::string& text, std::size_t at) {
        constexpr std::string_view digits = "0123456789";
        const std::size_t from = text.find_first_of(digits, at);
        if (from == std::string::npos) return;
        const std::size_t to = std::min(text.find_first_not_of(digits, from), text.size());
        static const std::vector<std::string> numbers{
            "0",     "-1",     "2147483648",       "18446744073709551616",
            "1e308", "1e-320", "9999999999999999", "0.0000001"};
        text.replace(from, to - from, numbers[below(numbers.size())]);
    }

    std::vector<std::string> seeds_;
    std::vector<std::string> words_;
    std::mt19937_64 engine_;
};

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Whether the run ended in time; what else is wrong ends the program.
bool run(std::string input) {
    current = std::move(input);
    const auto start = Clock::now();
    static_cast<void>(LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(current.data()),
                                             current.size()));
    if (seconds_since(start) < longest_run_seconds) return true;
    std::cerr << "a run took " << seconds_since(start) << " s\n";
    keep_current();
    return false;
}

std::vector<std::string> corpus_of(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        paths.push_back(entry.path());
    }
    std::sort(paths.begin(), paths.end());
    std::vector<std::string> seeds;
    for (const auto& path : paths) seeds.push_back(bytes_of(path));
    return seeds;
}

}  // namespace

int main(int argc, char** argv) {
    const std::vector<std::string> arguments(argv, argv + argc);
    if (argc < 4) {
        std::cerr << "usage: " << arguments[0] << " CORPUS_DIR DICTIONARY SECONDS [SEED]\n";
        return 2;
    }
    const std::string name = std::filesystem::path(arguments[0]).filename().string();
    found_path = "found-" + name;
    static_cast<void>(std::signal(SIGABRT, on_signal));
#if defined(__SANITIZE_ADDRESS__)
    __sanitizer_set_death_callback(keep_current);
#else
    static_cast<void>(std::signal(SIGSEGV, on_signal));
#endif
    const std::vector<std::string> seeds = corpus_of(arguments[1]);
    const double seconds = std::stod(arguments[3]);
    const auto start = Clock::now();
    std::size_t runs = 0;
    for (const std::string& seed : seeds) {
        if (!run(seed)) return 1;
        ++runs;
    }
    if (runs == 0) {
        std::cerr << arguments[1] << " holds no input\n";
        return 1;
    }
    Changer changer(seeds, words_of(arguments[2]), argc > 4 ? std::stoull(arguments[4]) : 1);
    while (seconds_since(start) < seconds) {
        if (!run(changer.next())) return 1;
        ++runs;
    }
    std::cout << name << ": " << seeds.size() << " kept inputs, " << runs - seeds.size()
              << " changed ones, " << seconds_since(start) << " s\n";
    return 0;
}
