#include "blocks/scratch_folder.h"

#include <cstdlib>
#include <stdexcept>
#include <string>

namespace lagline {

ScratchFolder::ScratchFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "lagline-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) {
        throw std::runtime_error("cannot make a temporary folder " + name);
    }
    path_ = name;
}

ScratchFolder::~ScratchFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

}  // namespace lagline
