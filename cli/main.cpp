#include "cli/app.h"

int main(int argc, char** argv) { return lagline::cli::App{}.run(argc, argv); }
