#include <algorithm>
#include <iterator>

#include "cli/completion.h"
#include "cli/words.h"

namespace lagline::cli {
namespace {

constexpr const char* head =
    R"(# bash completion for lagline.  Made by `lagline dictionary --completion bash`.

_lagline() {
    local current="${COMP_WORDS[COMP_CWORD]}" command="" asked="" words="" paths="" word
    local -i i arguments=0
    COMPREPLY=()
    # What stands before: the command, an option that waits for its value, or so many arguments.
    for ((i = 1; i < COMP_CWORD; ++i)); do
        word="${COMP_WORDS[i]}"
        if [[ "$word" == "=" ]]; then
            continue  # --option=value comes as three words
        elif [[ -n "$asked" ]]; then
            asked=""
            continue
        fi
)";

constexpr const char* tail = R"(    if [[ "$current" == "=" ]]; then current=""; fi
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current")
    if [[ -z "$paths" ]]; then return; fi
    mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -A "$paths" -- "$current")
    # The shell itself completes what is quoted, and escapes what it puts in.
    if [[ "$paths" == file ]]; then
        compopt -o filenames -o default 2>/dev/null || :
    else
        compopt -o filenames -o dirnames 2>/dev/null || :
    fi
} && complete -F _lagline lagline
)";

std::string in_quotes(const std::string& text) { return "\"" + text + "\""; }

// One branch of a case, none where nothing would match it.
std::string branch(const std::vector<std::string>& patterns, const std::string& action) {
    if (patterns.empty()) return "";
    return "            " + joined(patterns, " | ") + ") " + action + " ;;\n";
}

using Patterns = std::vector<std::string>;

Patterns patterns_of(const CommandDescription& command, const OptionDescription& option) {
    Patterns patterns;
    for (const std::string& name : option.names) {
        patterns.push_back(in_quotes(command.name + " " + name));
    }
    return patterns;
}

// Options of a command that wait for a value.
Patterns with_value(const CommandDescription& command) {
    Patterns all;
    for (const OptionDescription& option : command.options) {
        if (option.argument || option.value.empty()) continue;
        std::ranges::move(patterns_of(command, option), std::back_inserter(all));
    }
    return all;
}

// How the words before the cursor are read.
std::string reading(const ProgramDescription& program) {
    Patterns commands;
    Patterns parts;
    std::string options;
    for (const CommandDescription& command : program) {
        if (!command.owner().empty()) {
            parts.push_back(in_quotes(command.name));
        } else if (!command.name.empty()) {
            commands.push_back(in_quotes(" " + command.name));
        }
        options += branch(with_value(command), "asked=\"$word\"");
    }
    return "        case \"$command $word\" in\n" + branch(commands, "command=\"$word\"") +
           branch(parts, "command+=\" $word\"") + options +
           "            *) if [[ \"$word\" != -* ]]; then arguments+=1; fi ;;\n" +
           "        esac\n    done\n";
}

// What a value can be: words, paths, both or nothing that could be offered.
std::string offer(const OptionDescription& option) {
    std::vector<std::string> words = option.choices;
    words.insert(words.end(), option.offered.begin(), option.offered.end());
    std::vector<std::string> actions;
    if (!words.empty()) actions.push_back("words=" + in_quotes(joined(words, " ")));
    if (option.takes("FILE")) {
        actions.emplace_back("paths=file");
    } else if (option.takes("DIR")) {
        actions.emplace_back("paths=directory");
    }
    return joined(actions, " ");
}

std::string values(const CommandDescription& command) {
    std::string text;
    std::size_t place = 0;
    for (const OptionDescription& option : command.options) {
        Patterns patterns = patterns_of(command, option);
        if (option.argument) {
            patterns = {in_quotes(command.name + " " + std::to_string(place++))};
        }
        const std::string action = offer(option);
        if (!action.empty()) text += branch(patterns, action);
    }
    return text;
}

std::string names_of_options(const CommandDescription& command) {
    std::vector<std::string> names;
    for (const OptionDescription& option : command.options) {
        if (option.argument) continue;
        names.insert(names.end(), option.names.begin(), option.names.end());
    }
    return joined(names, " ");
}

}  // namespace

std::string bash_completion(const ProgramDescription& program) {
    std::string text = head + reading(program);
    text +=
        "    if [[ -z \"$asked\" && \"$current\" == -* ]]; then\n"
        "        case \"$command\" in\n";
    for (const CommandDescription& command : program) {
        text += branch({in_quotes(command.name)}, "words=" + in_quotes(names_of_options(command)));
    }
    text += "        esac\n    else\n        case \"$command ${asked:-$arguments}\" in\n";
    for (const CommandDescription& command : program) {
        std::vector<std::string> below;
        for (const CommandDescription* part : parts_of(program, command.name)) {
            below.emplace_back(part->word());
        }
        if (!below.empty()) {
            text +=
                branch({in_quotes(command.name + " 0")}, "words=" + in_quotes(joined(below, " ")));
        }
        text += values(command);
    }
    return text + "        esac\n    fi\n" + tail;
}

}  // namespace lagline::cli
