#include "ledger/entry.h"

#include <algorithm>

#include "diagnostics/text.h"

namespace lagline {
namespace {

std::string head_of(const ChainLink& chain) {
    return "lagline ledger 1\nentry " + std::to_string(chain.entry) + "\nprevious " +
           chain.previous + "\nat " + chain.at + "\n";
}

}  // namespace

std::string first_previous() {
    std::string zeros;
    zeros.resize(64, '0');
    return zeros;
}

std::string manifest_of(const RunEntry& run) {
    std::string text = head_of(run.chain) + "run " + std::to_string(run.number) + "\nkind " +
                       run.kind + "\nengine " + run.engine + "\n";
    for (const Item& item : run.items) text += item.sha256 + "  " + item.path + "\n";
    return text;
}

std::string manifest_of(const SignatureEntry& signature) {
    return head_of(signature.chain) + "signs run " + std::to_string(signature.run) + "\ndigest " +
           signature.run_digest + "\nname " + signature.name + "\nrole " + signature.role +
           "\nnote " + signature.note + "\n";
}

bool fits_a_line(std::string_view text) {
    const auto is_control = [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return byte < 0x20U || byte == 0x7FU;
    };
    return std::ranges::none_of(text, is_control) &&
           first_invalid_utf8(text) == std::string_view::npos;
}

bool is_plain_path(std::string_view path) {
    if (!fits_a_line(path)) return false;
    while (true) {
        const auto slash = path.find('/');
        const std::string_view part = path.substr(0, slash);
        if (part.empty() || part == "." || part == "..") return false;
        if (slash == std::string_view::npos) return true;
        path.remove_prefix(slash + 1);
    }
}

}  // namespace lagline
