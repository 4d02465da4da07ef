#include "ledger/run_options.h"

#include <rapidjson/document.h>
#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

namespace lagline {
namespace {

rapidjson::SizeType json_size(std::string_view text) {
    return static_cast<rapidjson::SizeType>(text.size());
}

}  // namespace

std::string canonical_json(const RunOptions& options) {
    rapidjson::StringBuffer buffer;
    rapidjson::Writer<rapidjson::StringBuffer> json{buffer};
    json.StartObject();
    for (const auto& [name, value] : options) {
        json.Key(name.data(), json_size(name));
        json.String(value.data(), json_size(value));
    }
    json.EndObject();
    return std::string{buffer.GetString(), buffer.GetSize()} + "\n";
}

std::optional<RunOptions> read_options(std::string_view json) {
    rapidjson::Document document;
    document.Parse(json.data(), json.size());
    if (document.HasParseError() || !document.IsObject()) return std::nullopt;
    RunOptions options;
    for (const auto& member : document.GetObject()) {
        if (!member.value.IsString()) return std::nullopt;
        options.emplace(std::string{member.name.GetString(), member.name.GetStringLength()},
                        std::string{member.value.GetString(), member.value.GetStringLength()});
    }
    return options;
}

std::string option(const RunOptions& options, std::string_view name) {
    const auto found = options.find(name);
    return found == options.end() ? std::string{} : found->second;
}

}  // namespace lagline
