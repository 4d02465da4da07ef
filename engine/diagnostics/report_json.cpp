#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>

#include <string>
#include <string_view>

#include "diagnostics/diagnostic.h"
#include "diagnostics/text.h"

namespace lagline {
namespace {

using Writer = rapidjson::PrettyWriter<rapidjson::StringBuffer>;

void write(Writer& writer, std::string_view text) {
    writer.String(text.data(), static_cast<rapidjson::SizeType>(text.size()));
}

/// A member whose text came from an input.  Text that is not UTF-8 has no form in JSON: its bad
/// bytes are shown as \xNN.  Good text is kept as it is.
void member(Writer& writer, std::string_view key, std::string_view text) {
    write(writer, key);
    if (first_invalid_utf8(text) == std::string_view::npos) {
        write(writer, text);
    } else {
        write(writer, printable(text, std::string_view::npos));
    }
}

void member(Writer& writer, std::string_view key, std::size_t count) {
    write(writer, key);
    writer.Uint64(count);
}

void member(Writer& writer, std::string_view key, int number) {
    write(writer, key);
    writer.Int(number);
}

void write(Writer& writer, const Diagnostic& diagnostic) {
    writer.StartObject();
    member(writer, "severity", diagnostic.severity == Severity::error ? "error" : "warning");
    member(writer, "code", code_of(diagnostic.problem));
    member(writer, "file", diagnostic.where.file);
    member(writer, "line", diagnostic.where.line);
    member(writer, "column", diagnostic.where.column);
    if (!diagnostic.where.sheet.empty()) {
        member(writer, "sheet", diagnostic.where.sheet);
        member(writer, "cell", cell_name(diagnostic.where));
    }
    member(writer, "subject", diagnostic.subject);
    member(writer, "found", diagnostic.found);
    member(writer, "expected", diagnostic.expected);
    member(writer, "mend", diagnostic.mend);
    writer.EndObject();
}

void write(Writer& writer, const Report::Dropped& dropped) {
    writer.StartObject();
    member(writer, "file", dropped.file);
    member(writer, "code", code_of(dropped.problem));
    member(writer, "count", dropped.count);
    writer.EndObject();
}

}  // namespace

std::string to_json(const Report& report) {
    rapidjson::StringBuffer buffer;
    Writer writer(buffer);
    writer.SetIndent(' ', 2);
    writer.StartObject();
    member(writer, "errors", report.errors());
    member(writer, "warnings", report.warnings());
    write(writer, "diagnostics");
    writer.StartArray();
    for (const auto& diagnostic : report.diagnostics()) write(writer, diagnostic);
    writer.EndArray();
    write(writer, "not_shown");
    writer.StartArray();
    for (const auto& dropped : report.dropped()) write(writer, dropped);
    writer.EndArray();
    writer.EndObject();
    return std::string(buffer.GetString(), buffer.GetSize()) + '\n';
}

}  // namespace lagline
