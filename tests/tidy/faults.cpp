// A fault for each kind of check: check.py looks at this file joined with another and expects every
// finding that a line names.  It is not built.

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace lagline {
namespace paths = std;  // finds misc-unused-alias-decls

struct badName {};     // finds readability-identifier-naming
typedef int OldStyle;  // finds modernize-use-using

struct Base {
    virtual ~Base() = default;
    virtual int value() const { return 0; }
};
struct Derived : Base {
    virtual int value() const { return 1; }  // finds modernize-use-override
    int extra = 2;
};

class Holder {
  public:
    Holder(const std::string& text) : text_(text) {}  // finds modernize-pass-by-value
    const std::string& text() const { return text_; }

  private:
    std::string text_;
    int wrongSuffix = 0;  // finds readability-identifier-naming
};

namespace {

int divided(int number) {
    const int zero = 0;
    return number / zero;  // finds clang-analyzer-core.DivideZero
}

int through_null(bool sure) {
    int* target = nullptr;
    if (!sure) target = new int(1);
    return *target;  // finds clang-analyzer-core.NullDereference
}

int deleted(int number) {
    int* owned = new int(number);
    delete owned;
    return *owned;  // finds clang-analyzer-cplusplus.NewDelete
}

int leaked(int number) {
    int* owned = new int(number);
    return number + 1;  // finds clang-analyzer-cplusplus.NewDeleteLeaks
}

int dead_store(int number) {
    int sum = number + 1;
    sum = number + 2;  // finds clang-analyzer-deadcode.DeadStores
    return number;
}

int uninitialised(bool sure) {
    int value;
    if (sure) value = 1;
    return value + 1;  // finds clang-analyzer-core.UndefinedBinaryOperatorResult
}

std::string moved(std::string text) {
    const std::string other = std::move(text);
    return other + text;  // finds bugprone-use-after-move
}

int unused_parameter(int used, int unused) { return used; }  // finds misc-unused-parameters

int same_branches(int number) {
    if (number > 1) {  // finds bugprone-branch-clone
        return 2;
    } else {
        return 2;
    }
}

bool redundant(int number) { return number == number; }  // finds misc-redundant-expression

int again(int number) { return number < 1 ? 0 : again(number - 1); }  // finds misc-no-recursion

double divided_whole(int number) { return 0.5 * (number / 2); }  // finds bugprone-integer-division

std::size_t copied(const std::vector<std::string>& texts) {
    std::size_t sum = 0;
    for (const std::string text : texts) sum += text.size();  // finds performance-for-range-copy
    return sum;
}

std::size_t size(std::string text) {  // finds performance-unnecessary-value-param
    return text.size();
}

std::size_t copy_of_member(const Holder& holder) {
    const auto text = holder.text();  // finds performance-unnecessary-copy-initialization
    return text.size();
}

int sliced(const Derived& derived) {
    const Base base = derived;  // finds cppcoreguidelines-slicing
    return base.value();
}

void loop(std::vector<int>& numbers) {
    for (std::size_t i = 0; i < numbers.size(); ++i) {  // finds modernize-loop-convert
        numbers[i] = 0;
    }
    for (float x = 0; x < 1; x += 0.1F) {  // finds clang-analyzer-security.FloatLoopCounter
        numbers.push_back(1);
    }
    std::vector<std::pair<int, int>> pairs;
    pairs.push_back(std::make_pair(1, 2));  // finds modernize-use-emplace
    std::unique_ptr<int> pointer(new int(1));
    pointer.reset(new int(2));  // finds modernize-make-unique
    std::string("forgotten");   // finds bugprone-unused-raii
    try {
        numbers.clear();
    } catch (std::string text) {  // finds misc-throw-by-value-catch-by-reference
        numbers.push_back(static_cast<int>(text.size()));
    }
}

#define TWICE(x) x * 2  // finds bugprone-macro-parentheses

int nested(int a, int b) {  // finds readability-function-cognitive-complexity
    int sum = 0;
    for (int i = 0; i < a; ++i) {
        for (int j = 0; j < b; ++j) {
            if (i > j) {
                if (i % 2 == 0) {
                    if (j % 2 == 0) {
                        if (i % 3 == 0) {
                            sum += i > 5 ? (j > 5 ? 1 : 2) : 3;
                        } else if (j % 3 == 0) {
                            sum += 4;
                        } else {
                            sum += 5;
                        }
                    }
                }
            }
        }
    }
    return sum + TWICE(3);
}

}  // namespace

int all(std::vector<int>& numbers) {
    loop(numbers);
    return divided(1) + through_null(true) + deleted(1) + leaked(1) + dead_store(1) +
           uninitialised(false) +
           static_cast<int>(moved("a").size() + copied({}) + size("a") +
                            copy_of_member(Holder("a"))) +
           unused_parameter(1, 2) + same_branches(1) + static_cast<int>(redundant(1)) + again(1) +
           static_cast<int>(divided_whole(1)) + sliced(Derived{}) + nested(1, 2);
}

}  // namespace lagline
