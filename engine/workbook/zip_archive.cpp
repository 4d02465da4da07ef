#include "workbook/zip_archive.h"

#include <zip.h>

#include <algorithm>
#include <array>
#include <cstdint>

namespace lagline {
namespace {

struct FileCloser {
    void operator()(zip_file_t* file) const { ::zip_fclose(file); }
};
using OpenPart = std::unique_ptr<zip_file_t, FileCloser>;

constexpr std::size_t piece_bytes = std::size_t{64} << 10;

std::string mebibytes(std::size_t bytes) { return std::to_string(bytes >> 20) + " MiB"; }

// What an error of libzip says.
std::string text_of(zip_error_t* error) {
    std::string text = ::zip_error_strerror(error);
    ::zip_error_fini(error);
    return text;
}

WorkbookFault not_an_archive(std::string_view bytes, const std::string& reason) {
    constexpr std::string_view compound_file = "\xD0\xCF\x11\xE0";
    if (bytes.starts_with(compound_file)) {
        return {"a workbook in the old binary form, or one with a password",
                "a workbook as ISO/IEC 29500 has it (.xlsx)",
                "save it as .xlsx without a password"};
    }
    return damaged("an archive that cannot be opened (" + reason + ")");
}

}  // namespace

void ZipArchive::Closer::operator()(zip* archive) const { ::zip_discard(archive); }

ZipArchive::ZipArchive(std::string_view bytes, const WorkbookLimits& limits) : limits_(limits) {
    zip_error_t error;
    ::zip_error_init(&error);
    zip_source_t* source = ::zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
    if (source != nullptr) archive_.reset(::zip_open_from_source(source, ZIP_RDONLY, &error));
    if (archive_ == nullptr) {
        if (source != nullptr) ::zip_source_free(source);
        fault_ = not_an_archive(bytes, text_of(&error));
        return;
    }
    ::zip_error_fini(&error);
    const auto parts = ::zip_get_num_entries(archive_.get(), 0);
    if (parts < 0 || static_cast<std::size_t>(parts) > limits_.parts) {
        fault_ = too_much("an archive of " + std::to_string(parts) + " parts",
                          "at most " + std::to_string(limits_.parts));
    }
}

bool ZipArchive::has(const std::string& part) const {
    return ::zip_name_locate(archive_.get(), part.c_str(), ZIP_FL_NOCASE) >= 0;
}

std::optional<WorkbookFault> ZipArchive::unpack(const std::string& part, const Sink& sink) {
    const auto index = ::zip_name_locate(archive_.get(), part.c_str(), ZIP_FL_NOCASE);
    if (index < 0) return damaged("no part " + part);
    const auto entry = static_cast<std::uint64_t>(index);
    zip_stat_t status;
    ::zip_stat_init(&status);
    const OpenPart file{::zip_fopen_index(archive_.get(), entry, 0)};
    if (file == nullptr || ::zip_stat_index(archive_.get(), entry, 0, &status) != 0) {
        return damaged("part " + part + ", which cannot be opened (" +
                       ::zip_strerror(archive_.get()) + ")");
    }
    const auto packed = std::max<std::size_t>(1, status.comp_size);
    std::array<char, piece_bytes> piece{};
    std::size_t bytes = 0;
    while (true) {
        // A wrong length or checksum shows here, however large the part says it is.
        const auto got = ::zip_fread(file.get(), piece.data(), piece.size());
        if (got < 0) {
            return damaged("part " + part + ", which cannot be unpacked (" +
                           ::zip_file_strerror(file.get()) + ")");
        }
        if (got == 0) return std::nullopt;
        bytes += static_cast<std::size_t>(got);
        unpacked_bytes_ += static_cast<std::size_t>(got);
        if (unpacked_bytes_ > limits_.unpacked_bytes) {
            return too_much("more than " + mebibytes(limits_.unpacked_bytes) + " once unpacked",
                            "at most that");
        }
        if (bytes > limits_.ratio_from_bytes && bytes / packed > limits_.ratio) {
            return too_much("part " + part + ", which unpacks to more than " +
                                std::to_string(limits_.ratio) + " times its size",
                            "a part that a spreadsheet packed");
        }
        if (!sink({piece.data(), static_cast<std::size_t>(got)})) return std::nullopt;
    }
}

}  // namespace lagline
