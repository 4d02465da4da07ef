#!/usr/bin/env bash
# Runs clang-tidy over engine/ and cli/.
#   tests/tidy.sh BUILD_DIR CACHE_DIR
# BUILD_DIR is a finished Ninja build.  A file that passed is not looked at again until it, a header
# of ours that it includes, its compile command, .clang-tidy or clang-tidy itself changes.
set -euo pipefail

root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
build="$(cd "$1" && pwd)"
mkdir -p "$2"
cache="$(cd "$2" && pwd)"
tidy="$(command -v clang-tidy-14 || command -v clang-tidy)"

settings="$({ "$tidy" --version; cat "$root/.clang-tidy"
              grep -v '"file"\|"directory"' "$build/compile_commands.json" |
                  grep -o ' -[DWfOs][^ ]*' | sort -u; } | sha256sum | cut -c1-64)"

# One line a source: the source, then our headers that it includes, as the compiler saw them.
ours() {
    ninja -C "$build" -t deps | awk -v root="$root/" -v build="$build" '
        # A compiler cache may write paths that start at the build folder.
        function whole(path,    parts, kept, count, i, n) {
            if (path !~ /^\//) path = build "/" path
            n = split(path, parts, "/")
            for (i = 1; i <= n; ++i) {
                if (parts[i] == "" || parts[i] == ".") continue
                if (parts[i] == "..") --count
                else kept[++count] = parts[i]
            }
            path = ""
            for (i = 1; i <= count; ++i) path = path "/" kept[i]
            return path
        }
        /^[^ ]/ { source = ""; next }
        /^    / {
            path = whole(substr($0, 5))
            if (index(path, root) != 1) next
            path = substr(path, length(root) + 1)
            if (path !~ /^(engine|cli)\//) next
            if (source == "") { source = path; order[++count] = path; line[path] = path }
            else line[source] = line[source] " " path
        }
        END { for (i = 1; i <= count; ++i) if (order[i] ~ /\.cpp$/) print line[order[i]] }' | sort -u
}

check_one() {
    local source="$1" key="$2" output
    if output="$("$tidy" --quiet -p "$build" "$root/$source" 2>&1)"; then
        touch "$cache/$key"
    else
        printf '%s\n' "$output" | grep -v '^[0-9]* warnings\? generated\.$'
        return 1
    fi
}
export -f check_one
export root build tidy cache

cd "$root"
todo=()
known=0
while read -r -a files; do
    [[ -f "${files[0]}" ]] || continue  # left over from a file that is gone
    key="$({ echo "$settings"; sha256sum "${files[@]}"; } | sha256sum | cut -c1-64)"
    if [[ -e "$cache/$key" ]]; then
        known=$((known + 1))
        touch "$cache/$key"
    else
        todo+=("${files[0]}" "$key")
    fi
done < <(ours)

echo "clang-tidy: $((${#todo[@]} / 2)) files to check, $known unchanged"
if [[ $((${#todo[@]} / 2 + known)) -eq 0 ]]; then
    echo "clang-tidy: $build holds no object of engine/ or cli/" >&2
    exit 1
fi
find "$cache" -type f -mtime +30 -delete
[[ ${#todo[@]} -eq 0 ]] && exit 0
printf '%s\n' "${todo[@]}" | xargs -n 2 -P "$(nproc)" bash -c 'check_one "$@"' check_one
