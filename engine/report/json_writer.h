#pragma once

// For the files of this folder only: RapidJSON stays out of the public headers.

#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <string>
#include <string_view>

#include "blocks/number_text.h"
#include "diagnostics/diagnostic.h"
#include "report/own_output.h"

namespace lagline {

/// Writes JSON; numbers come out as in the CSV, to read back exactly.
template <class Writer>
class JsonWriterBy {
  public:
    JsonWriterBy() {
        if constexpr (requires { writer_.SetIndent(' ', 2); }) writer_.SetIndent(' ', 2);
    }

    /// A whole document: an object that says first who made it, see own_output.h.
    void begin_document() {
        begin_object();
        member(made_by_key, made_by);
    }
    void begin_object() { writer_.StartObject(); }
    void end_object() { writer_.EndObject(); }
    void begin_array() { writer_.StartArray(); }
    void end_array() { writer_.EndArray(); }
    void key(std::string_view name) { writer_.Key(name.data(), size(name)); }
    void text(std::string_view value) { writer_.String(value.data(), size(value)); }
    void number(double value) {
        const std::string digits = exact_number(value);
        writer_.RawValue(digits.data(), digits.size(), rapidjson::kNumberType);
    }
    void count(std::size_t value) { writer_.Uint64(value); }
    void flag(bool value) { writer_.Bool(value); }

    /// A value that is JSON already.
    void raw(std::string_view json) {
        while (json.ends_with('\n')) json.remove_suffix(1);
        writer_.RawValue(json.data(), json.size(), rapidjson::kObjectType);
    }

    void member(std::string_view name, std::string_view value) {
        key(name);
        text(value);
    }
    void member(std::string_view name, double value) {
        key(name);
        number(value);
    }
    void member_count(std::string_view name, std::size_t value) {
        key(name);
        count(value);
    }
    void member_flag(std::string_view name, bool value) {
        key(name);
        flag(value);
    }
    template <class Texts>
    void member_texts(std::string_view name, const Texts& values) {
        key(name);
        begin_array();
        for (const auto& value : values) text(value);
        end_array();
    }
    /// file, line and column as members of the object that is open; of a workbook the sheet too.
    void place(const Place& place) {
        member("file", place.file);
        if (!place.sheet.empty()) member("sheet", place.sheet);
        key("line");
        writer_.Int(place.line);
        key("column");
        writer_.Int(place.column);
    }

    /// What has been written since the last call; keeps memory small in a long document.
    [[nodiscard]] std::string take() {
        std::string written{buffer_.GetString(), buffer_.GetSize()};
        buffer_.Clear();
        return written;
    }

  private:
    static rapidjson::SizeType size(std::string_view text) {
        return static_cast<rapidjson::SizeType>(text.size());
    }
    rapidjson::StringBuffer buffer_;
    Writer writer_{buffer_};
};

/// With two blanks of indent, for people and programs.
using JsonWriter = JsonWriterBy<rapidjson::PrettyWriter<rapidjson::StringBuffer>>;
/// Without any blank, where many rows are to be carried.
using CompactJsonWriter = JsonWriterBy<rapidjson::Writer<rapidjson::StringBuffer>>;

}  // namespace lagline
