#include "workbook/workbook_parts.h"

#include <charconv>
#include <system_error>

namespace lagline {
namespace {

WorkbookFault too_many(const char* what, std::size_t most) {
    return too_much(std::string{"more than "} + std::to_string(most) + " " + what, "fewer");
}

std::string folder_of(std::string_view part) {
    const auto slash = part.rfind('/');
    return slash == std::string_view::npos ? "" : std::string{part.substr(0, slash + 1)};
}

// "xl/" and "../media/x" give "media/x"; "/xl/x" is from the root.
std::string resolved(std::string folder, std::string_view target) {
    if (target.starts_with('/')) return std::string{target.substr(1)};
    while (target.starts_with("../")) {
        target.remove_prefix(3);
        if (!folder.empty()) folder.pop_back();
        folder = folder_of(folder);
    }
    return folder + std::string{target};
}

std::string_view last_word(std::string_view type) { return type.substr(type.rfind('/') + 1); }

class RelationshipHandler : public XmlHandler {
  public:
    RelationshipHandler(std::string folder, std::size_t most, Relationships& into)
        : folder_(std::move(folder)), most_(most), into_(into) {}

    void start(std::string_view name, const XmlAttributes& attributes) override {
        // What lies outside the file is not opened.
        if (name != "Relationship" || attributes.value("TargetMode") == "External") return;
        if (into_.size() >= most_) return refuse(too_many("relations", most_));
        into_.insert_or_assign(std::string{attributes.value("Id")},
                               Relationship{std::string{last_word(attributes.value("Type"))},
                                            resolved(folder_, attributes.value("Target"))});
    }

  private:
    std::string folder_;
    std::size_t most_;
    Relationships& into_;
};

class ContentsHandler : public XmlHandler {
  public:
    ContentsHandler(std::size_t most, WorkbookContents& into) : most_(most), into_(into) {}

    void start(std::string_view name, const XmlAttributes& attributes) override {
        if (name == "workbookPr" && attributes.flag("date1904")) {
            into_.dates = DateSystem::from_1904;
        }
        if (name != "sheet") return;
        if (into_.sheets.size() >= most_) return refuse(too_many("sheets", most_));
        const std::string_view state = attributes.value("state");
        into_.sheets.push_back({std::string{attributes.value("name")},
                                std::string{attributes.value("id")},
                                state == "hidden" || state == "veryHidden"});
    }

  private:
    std::size_t most_;
    WorkbookContents& into_;
};

class StyleHandler : public XmlHandler {
  public:
    StyleHandler(std::size_t most, CellStyles& into) : most_(most), into_(into) {}

    void start(std::string_view name, const XmlAttributes& attributes) override {
        const auto format = parse_count(attributes.value("numFmtId"));
        if (name == "numFmt" && format) {
            if (codes_.size() >= most_) return refuse(too_many("number formats", most_));
            codes_[*format] = meaning_of_code(attributes.value("formatCode"));
        } else if (name == "cellXfs") {
            in_cells_ = true;
        } else if (name == "xf" && in_cells_) {
            if (into_.size() >= most_) return refuse(too_many("cell styles", most_));
            const auto code = codes_.find(format.value_or(0));
            into_.push_back(code == codes_.end() ? meaning_of_built_in(format.value_or(0))
                                                 : code->second);
        }
    }
    void end(std::string_view name) override {
        if (name == "cellXfs") in_cells_ = false;
    }

  private:
    std::size_t most_;
    CellStyles& into_;
    std::map<std::uint32_t, NumberMeaning> codes_;
    bool in_cells_ = false;
};

}  // namespace

std::optional<std::uint32_t> parse_count(std::string_view text) {
    std::uint32_t number = 0;
    const char* const end = text.data() + text.size();
    const auto [at, error] = std::from_chars(text.data(), end, number);
    if (text.empty() || error != std::errc{} || at != end) return std::nullopt;
    return number;
}

std::optional<WorkbookFault> read_relationships(const PartReading& with, const std::string& part,
                                                Relationships& into) {
    const std::string folder = folder_of(part);
    RelationshipHandler handler{folder, with.limits.parts, into};
    const std::string relations = folder + "_rels/" + part.substr(folder.size()) + ".rels";
    return parse_part(with.archive, relations, with.limits, handler);
}

std::optional<WorkbookFault> read_contents(const PartReading& with, const std::string& part,
                                           WorkbookContents& into) {
    ContentsHandler handler{with.limits.parts, into};
    return parse_part(with.archive, part, with.limits, handler);
}

std::optional<WorkbookFault> read_styles(const PartReading& with, const std::string& part,
                                         CellStyles& into) {
    StyleHandler handler{with.limits.entries, into};
    return parse_part(with.archive, part, with.limits, handler);
}

}  // namespace lagline
