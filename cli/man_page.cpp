#include "cli/man_page.h"

#include <algorithm>
#include <array>
#include <utility>

#include "cli/app.h"
#include "cli/words.h"
#include "diagnostics/text.h"

namespace lagline::cli {
namespace {

// What roff would read as a request or show as another character; groff_char(7).
constexpr std::array special = {std::pair{'\\', "\\e"},   std::pair{'-', "\\-"},
                                std::pair{'\'', "\\(aq"}, std::pair{'`', "\\(ga"},
                                std::pair{'^', "\\(ha"},  std::pair{'~', "\\(ti"},
                                std::pair{'"', "\\(dq"}};

std::string bold(std::string_view text) { return "\\fB" + roff(text) + "\\fR"; }
std::string italic(std::string_view text) { return "\\fI" + roff(text) + "\\fR"; }

bool is_verbatim(const std::string& line) { return line.starts_with("  "); }

// Nothing stands between a heading and what comes first.
std::string between(const std::string& text) { return text.empty() ? "" : ".PP\n"; }

// Helps are written for a terminal: lines that start with blanks are commands to copy, the rest
// runs on.
std::string paragraphs(const std::vector<std::string>& lines) {
    std::string text;
    bool verbatim = false;
    bool begun = false;
    for (const std::string& line : lines) {
        if (verbatim && !is_verbatim(line)) {
            text += ".EE\n.RE\n";
            verbatim = begun = false;
        }
        if (line.empty()) {
            begun = false;
            continue;
        }
        if (is_verbatim(line) && !verbatim) {
            text += between(text) + ".RS 4\n.EX\n";
            verbatim = true;
        } else if (!verbatim && !begun) {
            text += between(text);
            begun = true;
        }
        text += roff(verbatim ? std::string_view{line}.substr(2) : trimmed(line)) + "\n";
    }
    return verbatim ? text + ".EE\n.RE\n" : text;
}

std::string value_of(const OptionDescription& option) {
    if (option.choices.empty()) return italic(option.value);
    std::vector<std::string> words;
    for (const std::string& word : option.choices) words.push_back(bold(word));
    return joined(words, "|");
}

std::string entry(const OptionDescription& option) {
    std::vector<std::string> names;
    for (const std::string& name : option.names) {
        names.push_back(option.argument ? italic(name) : bold(name));
    }
    std::string text = ".TP\n" + joined(names, ", ");
    if (!option.value.empty()) text += (option.argument ? ": " : " ") + value_of(option);
    if (option.several) text += " ...";
    text += "\n" + roff(option.help);
    if (!option.preset.empty()) text += " (without it: " + bold(option.preset) + ")";
    return text + "\n";
}

std::string entries(const CommandDescription& command) {
    std::string arguments;
    std::string options;
    for (const OptionDescription& option : command.options) {
        (option.argument ? arguments : options) += entry(option);
    }
    return arguments + options;
}

std::string synopsis(const CommandDescription& command, bool has_parts) {
    std::string text = bold(command.name.empty() ? "lagline" : "lagline " + command.name) + " [" +
                       italic("options") + "]";
    for (const OptionDescription& option : command.options) {
        if (option.argument) {
            const std::string word = italic(option.names.front()) + (option.several ? " ..." : "");
            text += option.required ? " " + word : " [" + word + "]";
        } else if (option.required) {
            text += " " + bold(option.names.back()) + " " + value_of(option);
        }
    }
    if (has_parts) text += " " + italic("command");
    return text + "\n";
}

std::string page_name(const CommandDescription& command) {
    return command.name.empty() ? "lagline" : "lagline-" + command.name;
}

std::string commands_section(const ProgramDescription& program, const CommandDescription& of) {
    const auto parts = parts_of(program, of.name);
    if (parts.empty()) return "";
    std::string text = ".SH COMMANDS\n";
    for (const CommandDescription* part : parts) {
        if (of.name.empty()) {
            text += ".TP\n" + bold("lagline " + part->name) + "\n" + roff(part->help) + "\n";
        } else {
            text += ".SS " + roff(part->name) + "\n" + synopsis(*part, false) + ".PP\n" +
                    roff(part->help) + "\n" + entries(*part);
        }
    }
    return text;
}

std::string exit_section() {
    std::string text = ".SH EXIT STATUS\n";
    for (const ExitMeaning& each : exit_meanings()) {
        text += ".TP\n" + bold(std::to_string(each.code)) + "\n" + roff(each.meaning) + "\n";
    }
    return text;
}

std::string see_also(const ProgramDescription& program, const CommandDescription& command) {
    std::vector<std::string> pages;
    if (!command.name.empty()) pages.emplace_back(".BR \\%lagline (1)");
    for (const CommandDescription* other : parts_of(program, "")) {
        if (other != &command) pages.push_back(".BR \\%" + roff(page_name(*other)) + " (1)");
    }
    std::sort(pages.begin(), pages.end());
    return ".SH SEE ALSO\n" + joined(pages, ",\n") + "\n";
}

// Cuts off the commands that a footer ends with.
std::vector<std::string> take_examples(std::vector<std::string>& footer) {
    const auto last_prose = std::find_if_not(footer.rbegin(), footer.rend(), is_verbatim);
    std::vector<std::string> examples{last_prose.base(), footer.end()};
    footer.erase(last_prose.base(), footer.end());
    return examples;
}

// Pages are called in capitals.
std::string title_of(const CommandDescription& command) {
    std::string title = page_name(command);
    for (char& c : title) {
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    }
    return title;
}

std::string page(const ProgramDescription& program, const CommandDescription& command,
                 const Edition& edition) {
    const bool is_program = command.name.empty();
    const std::string has_to_say = is_program ? command.help + "\n\n" + command.footer
                                              : command.help + ".\n\n" + command.footer;
    std::vector<std::string> description = split(has_to_say, '\n');
    const std::vector<std::string> examples = take_examples(description);
    std::string text = ".TH " + roff(title_of(command)) + " 1 " + std::string{edition.date} +
                       " \"lagline " + roff(edition.version) + "\" \"Lagline manual\"\n" +
                       ".SH NAME\n" + roff(page_name(command)) + " \\- " +
                       roff(is_program ? edition.summary : command.help) + "\n";
    text += ".SH SYNOPSIS\n" + synopsis(command, !parts_of(program, command.name).empty());
    text += ".SH DESCRIPTION\n" + paragraphs(description);
    text += ".SH OPTIONS\n" + entries(command);
    text += commands_section(program, command);
    text += exit_section();
    if (!examples.empty()) text += ".SH EXAMPLES\n" + paragraphs(examples);
    return text + see_also(program, command);
}

}  // namespace

std::string roff(std::string_view line) {
    std::string text;
    if (line.starts_with('.')) text = "\\&";
    for (const char c : line) {
        const auto* const known =
            std::ranges::find(special, c, &std::pair<char, const char*>::first);
        if (known == special.end()) {
            text += c;
        } else {
            text += known->second;
        }
    }
    return text;
}

std::vector<ManPage> man_pages(const ProgramDescription& program, const Edition& edition) {
    std::vector<ManPage> pages;
    for (const CommandDescription& each : program) {
        if (!each.owner().empty()) continue;  // stands on the page of its command
        pages.push_back({page_name(each) + ".1", page(program, each, edition)});
    }
    return pages;
}

}  // namespace lagline::cli
