#include "cli/completion.h"
#include "cli/words.h"

namespace lagline::cli {
namespace {

constexpr const char* head = R"(#compdef lagline
# zsh completion for lagline.  Made by `lagline dictionary --completion zsh`.
)";

// The first call comes through autoload, which takes the whole file for the function.
constexpr const char* tail = R"(
if [[ "$funcstack[1]" == "_lagline" ]]; then
  _lagline "$@"
else
  compdef _lagline lagline
fi
)";

std::string in_quotes(const std::string& text) {
    std::string quoted = "'";
    for (const char c : text) {
        if (c == '\'') {
            quoted += "'\\''";
        } else {
            quoted += c;
        }
    }
    return quoted + "'";
}

// Text within a specification of _arguments, where these characters end a field.
std::string field(std::string_view text) {
    std::string escaped;
    for (const char c : text) {
        if (c == '\\' || c == '[' || c == ']' || c == ':') escaped += '\\';
        escaped += c;
    }
    return escaped;
}

std::string listing(const std::vector<std::string>& words) {
    return "(" + joined(words, " ") + ")";
}

// What is offered for a value; a blank stands for nothing.
std::string action(const OptionDescription& option) {
    if (!option.choices.empty()) return listing(option.choices);
    std::string paths;
    if (option.takes("FILE")) {
        paths = "_files";
    } else if (option.takes("DIR")) {
        paths = "_files -/";
    }
    if (option.offered.empty()) return paths.empty() ? " " : paths;
    std::string text = "{_alternative \"names\\:name\\:" + listing(option.offered) + "\"";
    if (!paths.empty()) text += " \"paths\\:path\\:" + paths + "\"";
    return text + "}";
}

std::string value_fields(const OptionDescription& option) {
    return ":" + field(option.value) + ":" + action(option);
}

std::string specification(const OptionDescription& option) {
    std::string text;
    for (const std::string& name : option.names) {
        std::string spec;
        if (option.several) {
            spec = "*";
        } else if (option.names.size() > 1) {
            spec = listing(option.names);
        }
        const bool joins = !option.value.empty() && name.starts_with("--");
        spec += name + (joins ? "=" : "") + "[" + field(option.help) + "]";
        if (!option.value.empty()) spec += value_fields(option);
        text += " \\\n    " + in_quotes(spec);
    }
    return text;
}

std::string specifications(const CommandDescription& command) {
    std::string text;
    std::size_t place = 1;
    for (const OptionDescription& option : command.options) {
        if (!option.argument) {
            text += specification(option);
            continue;
        }
        const std::string position = option.several ? "*" : std::to_string(place++);
        const std::string optional = option.required || option.several ? ":" : "::";
        text += " \\\n    " +
                in_quotes(position + optional + field(option.names.front() + ", " + option.help) +
                          ":" + action(option));
    }
    return text;
}

std::string function_name(const std::string& command) {
    std::string name = command.empty() ? "_lagline" : "_lagline_" + command;
    for (char& c : name) {
        if (c == ' ') c = '_';
    }
    return name;
}

std::string completing_function(const ProgramDescription& program,
                                const CommandDescription& command) {
    const std::string name = function_name(command.name);
    const auto parts = parts_of(program, command.name);
    if (parts.empty()) {
        return "\n" + name + "() {\n  _arguments" + specifications(command) + "\n}\n";
    }
    std::string text = "\n" + name + "() {\n  local curcontext=\"$curcontext\" state line\n" +
                       "  local -a commands=(\n";
    for (const CommandDescription* part : parts) {
        text += "    " + in_quotes(std::string{part->word()} + ":" + part->help) + "\n";
    }
    return text + "  )\n  _arguments -C" + specifications(command) +
           " \\\n    '1:command:->command' '*::argument:->argument' && return\n" +
           "  case $state in\n    command) _describe -t commands command commands ;;\n" +
           "    argument) (( $+functions[" + name + "_$words[1]] )) && " + name +
           "_$words[1] ;;\n  esac\n}\n";
}

}  // namespace

std::string zsh_completion(const ProgramDescription& program) {
    std::string text = head;
    for (const CommandDescription& command : program) text += completing_function(program, command);
    return text + tail;
}

}  // namespace lagline::cli
