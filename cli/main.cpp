#include <csignal>

#include "cli/app.h"

int main(int argc, char** argv) {
    // A file that may not grow any further is a failed write, told like a full disk.
    std::signal(SIGXFSZ, SIG_IGN);
    return lagline::cli::App{}.run(argc, argv);
}
