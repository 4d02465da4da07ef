#include "cli/ledger_text.h"
#include "report/json_writer.h"

namespace lagline::cli {
namespace {

void number(JsonWriter& json, std::string_view name, std::int64_t value) {
    json.member(name, static_cast<double>(value));
}

void chain_members(JsonWriter& json, const ChainLink& chain) {
    number(json, "entry", chain.entry);
    json.member("previous", chain.previous);
    json.member("at", chain.at);
    json.member("digest", chain.digest);
}

void run_members(JsonWriter& json, const RunEntry& run) {
    number(json, "run", run.number);
    json.member("kind", run.kind);
    json.member("engine", run.engine);
    chain_members(json, run.chain);
}

void signature_object(JsonWriter& json, const SignatureEntry& signature) {
    json.begin_object();
    number(json, "run", signature.run);
    json.member("name", signature.name);
    json.member("role", signature.role);
    json.member("note", signature.note);
    chain_members(json, signature.chain);
    json.end_object();
}

void lines_member(JsonWriter& json, const LineChange& lines) {
    json.member_count("first_line", lines.first_line);
    json.member_texts("lines_before", lines.before);
    json.member_texts("lines_after", lines.after);
}

void input_object(JsonWriter& json, const InputChange& change) {
    json.begin_object();
    json.member("cause", to_string(change.cause));
    json.member("what", change.what);
    if (change.lines) {
        lines_member(json, *change.lines);
    } else {
        json.member("before", change.before);
        json.member("after", change.after);
    }
    json.end_object();
}

void cause_object(JsonWriter& json, const CauseTried& tried) {
    json.begin_object();
    json.member("cause", to_string(tried.cause));
    json.member("problem", tried.problem);
    json.member_count("moved", tried.moved);
    json.end_object();
}

void change_object(JsonWriter& json, const RankChange& change) {
    json.begin_object();
    json.member("segment", change.segment);
    if (change.from) number(json, "from", *change.from);
    if (change.to) number(json, "to", *change.to);
    const auto cause = change.main_cause();
    json.member("main_cause", cause ? to_string(*cause) : "interaction");
    json.key("places");
    json.begin_object();
    for (const Cause each : all_causes) {
        const auto at = static_cast<std::size_t>(each);
        if (change.places.at(at) != 0) number(json, to_string(each), change.places.at(at));
    }
    json.end_object();
    json.key("comes_or_goes_by");
    json.begin_array();
    for (const Cause each : all_causes) {
        if (change.comes_or_goes.at(static_cast<std::size_t>(each))) json.text(to_string(each));
    }
    json.end_array();
    number(json, "interaction", change.interaction);
    json.end_object();
}

template <class Values, class Write>
void array(JsonWriter& json, std::string_view name, const Values& values, const Write& write) {
    json.key(name);
    json.begin_array();
    for (const auto& value : values) write(json, value);
    json.end_array();
}

}  // namespace

std::string runs_json(const std::vector<RunEntry>& runs,
                      const std::vector<SignatureEntry>& signatures) {
    JsonWriter json;
    json.begin_object();
    array(json, "runs", runs, [](JsonWriter& to, const RunEntry& run) {
        to.begin_object();
        run_members(to, run);
        to.end_object();
    });
    array(json, "signatures", signatures, signature_object);
    json.end_object();
    return json.take() + "\n";
}

std::string run_json(const ShownRun& shown) {
    JsonWriter json;
    json.begin_object();
    run_members(json, shown.run);
    json.key("options");
    json.begin_object();
    for (const auto& [name, value] : shown.options) json.member(name, value);
    json.end_object();
    array(json, "files", shown.run.items, [](JsonWriter& to, const Item& item) {
        to.begin_object();
        to.member("path", item.path);
        to.member("sha256", item.sha256);
        to.end_object();
    });
    array(json, "signatures", shown.signatures, signature_object);
    json.end_object();
    return json.take() + "\n";
}

std::string verification_json(const Verification& verification) {
    JsonWriter json;
    json.begin_object();
    json.member_flag("ok", verification.ok());
    json.member_flag("whole", verification.content.report.ok());
    number(json, "contents", verification.content.contents);
    number(json, "runs", verification.content.runs);
    number(json, "signatures", verification.content.signatures);
    json.member("last_digest", verification.content.last_digest);
    json.key("report");
    json.raw(to_json(verification.content.report));
    array(json, "made_again", verification.runs, [](JsonWriter& to, const RunReproduced& run) {
        to.begin_object();
        number(to, "run", run.run);
        to.member_flag("ok", run.ok());
        to.member("stored_by", run.stored_by);
        to.member("problem", run.problem);
        to.member_texts("given", run.given);
        to.member_texts("same", run.same);
        to.member_texts("different", run.different);
        to.end_object();
    });
    json.member("this_version", LAGLINE_VERSION);
    json.end_object();
    return json.take() + "\n";
}

std::string comparison_json(const Comparison& comparison) {
    JsonWriter json;
    json.begin_document();
    number(json, "a", comparison.a.number);
    number(json, "b", comparison.b.number);
    json.member("engine_a", comparison.a.engine);
    json.member("engine_b", comparison.b.engine);
    json.member("this_version", comparison.this_version);
    json.member("problem", comparison.problem);
    json.member_count("segments", comparison.segments);
    array(json, "inputs", comparison.inputs, input_object);
    array(json, "causes", comparison.causes, cause_object);
    array(json, "changes", comparison.changes, change_object);
    json.end_object();
    return json.take() + "\n";
}

}  // namespace lagline::cli
