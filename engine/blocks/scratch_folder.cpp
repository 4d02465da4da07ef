#include "blocks/scratch_folder.h"

#include <cstdlib>
#include <stdexcept>
#include <string>

namespace lagline {
namespace {

namespace fs = std::filesystem;

}  // namespace

ScratchFolder::ScratchFolder() {
    std::string name = (fs::temp_directory_path() / "lagline-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) {
        throw std::runtime_error("cannot make a temporary folder " + name);
    }
    path_ = name;
}

ScratchFolder::~ScratchFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
}

}  // namespace lagline
