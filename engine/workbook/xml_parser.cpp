#include "workbook/xml_parser.h"

#include <expat.h>

#include <memory>
#include <type_traits>

namespace lagline {
namespace {

std::string_view without_prefix(std::string_view name) {
    const auto colon = name.find(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

struct ParserFreer {
    void operator()(XML_Parser parser) const { ::XML_ParserFree(parser); }
};
using Parser = std::unique_ptr<std::remove_pointer_t<XML_Parser>, ParserFreer>;

// One parse: hands the elements on and keeps the limits.
class Parse {
  public:
    Parse(std::string part, const WorkbookLimits& limits, XmlHandler& handler)
        : part_(std::move(part)),
          limits_(limits),
          handler_(handler),
          parser_(::XML_ParserCreate(nullptr)) {
        if (parser_ == nullptr) throw std::bad_alloc{};
        ::XML_SetUserData(parser_.get(), this);
        ::XML_SetElementHandler(parser_.get(), &Parse::on_start, &Parse::on_end);
        ::XML_SetCharacterDataHandler(parser_.get(), &Parse::on_text);
        ::XML_SetStartDoctypeDeclHandler(parser_.get(), &Parse::on_doctype);
    }

    // False when there is nothing more to do.
    bool feed(std::string_view piece, bool last) {
        fed_ += piece.size();
        const auto status = ::XML_Parse(parser_.get(), piece.data(), static_cast<int>(piece.size()),
                                        last ? XML_TRUE : XML_FALSE);
        if (handler_.fault()) fault_ = handler_.fault();
        if (fault_) return false;
        if (status != XML_STATUS_OK) {
            fault_ = damaged("part " + part_ + ", which is no XML (" +
                             ::XML_ErrorString(::XML_GetErrorCode(parser_.get())) + ", line " +
                             std::to_string(::XML_GetCurrentLineNumber(parser_.get())) + ")");
            return false;
        }
        // What has no end yet is held in memory until it has one.
        const auto done = ::XML_GetCurrentByteIndex(parser_.get());
        if (!last && done >= 0 && fed_ - static_cast<std::size_t>(done) > limits_.token_bytes) {
            fault_ = too_much("part " + part_ + " with a tag of more than " +
                                  std::to_string(limits_.token_bytes) + " bytes",
                              "shorter tags");
            return false;
        }
        return true;
    }

    [[nodiscard]] const std::optional<WorkbookFault>& fault() const { return fault_; }

  private:
    static Parse& self(void* data) { return *static_cast<Parse*>(data); }

    static void on_start(void* data, const char* name, const char** attributes) {
        Parse& parse = self(data);
        if (parse.handler_.fault()) return;
        if (++parse.depth_ > parse.limits_.depth) {
            parse.stop(too_much("part " + parse.part_ + " with more than " +
                                    std::to_string(parse.limits_.depth) +
                                    " elements inside each other",
                                "a flatter part"));
            return;
        }
        parse.handler_.start(without_prefix(name), XmlAttributes{attributes});
        parse.stop_if_refused();
    }
    static void on_end(void* data, const char* name) {
        Parse& parse = self(data);
        if (parse.handler_.fault()) return;
        --parse.depth_;
        parse.handler_.end(without_prefix(name));
        parse.stop_if_refused();
    }
    static void on_text(void* data, const char* piece, int size) {
        Parse& parse = self(data);
        if (parse.handler_.fault()) return;
        parse.handler_.text({piece, static_cast<std::size_t>(size)});
        parse.stop_if_refused();
    }
    static void on_doctype(void* data, const char* /*name*/, const char* /*system*/,
                           const char* /*public_id*/, int /*has_subset*/) {
        Parse& parse = self(data);
        parse.stop(damaged("part " + parse.part_ +
                           " with a document type, which could hold "
                           "entities"));
    }

    void stop(WorkbookFault fault) {
        if (!fault_) fault_ = std::move(fault);
        ::XML_StopParser(parser_.get(), XML_FALSE);
    }
    void stop_if_refused() {
        if (handler_.fault()) ::XML_StopParser(parser_.get(), XML_FALSE);
    }

    std::string part_;
    const WorkbookLimits& limits_;
    XmlHandler& handler_;
    Parser parser_;
    std::optional<WorkbookFault> fault_;
    std::size_t fed_ = 0;
    std::size_t depth_ = 0;
};

}  // namespace

std::optional<std::string_view> XmlAttributes::find(std::string_view name) const {
    for (const char** pair = pairs_; *pair != nullptr; pair += 2) {
        if (without_prefix(*pair) == name) return std::string_view{*(pair + 1)};
    }
    return std::nullopt;
}

bool XmlAttributes::flag(std::string_view name) const {
    const std::string_view given = value(name);
    return given == "1" || given == "true";
}

std::optional<WorkbookFault> parse_part(ZipArchive& archive, const std::string& part,
                                        const WorkbookLimits& limits, XmlHandler& handler) {
    Parse parse{part, limits, handler};
    auto fault =
        archive.unpack(part, [&parse](std::string_view piece) { return parse.feed(piece, false); });
    if (fault) return fault;
    if (!parse.fault()) parse.feed({}, true);
    return parse.fault();
}

}  // namespace lagline
