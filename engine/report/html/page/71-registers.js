// What was assumed, overridden, warned of; what the numbers of the rules rest on.
function gapTable() {
    if (data.gaps.length === 0) return el("p", { text: "None: every value that the method reads is given." });
    return simpleTable("Cells of segments.csv that were not given", [
        { head: "column", cell: (gap) => spoken(gap.column) },
        { head: "segments", number: true, cell: (gap) => grouped(String(gap.segments)) },
        { head: "share", number: true, cell: (gap) => percent(gap.segments / data.segments_in_plant) },
        { head: "taken", class: "words", cell: (gap) => gap.taken },
        { head: "from", cell: (gap) => gap.from + (gap.basis === "" ? "" : ", " + gap.basis) },
        { head: "why", class: "words", cell: (gap) => gap.reason },
        { head: "place", class: "place", cell: (gap) => gap.place },
    ], data.gaps, "unseen");
}
function overrideTable() {
    if (data.overrides.length === 0) return el("p", { text: "No override is in force." });
    return simpleTable("Values that an expert replaced", [
        { head: "segment", cell: (each) => segmentByName(each.segment) }, { head: "column", cell: (each) => spoken(each.column) },
        { head: "was", cell: (each) => each.replaced || "an empty cell" }, { head: "is", cell: (each) => each.value },
        { head: "reason", class: "words", cell: (each) => each.reason }, { head: "who", cell: (each) => each.who },
        { head: "when", class: "date", cell: (each) => each.when }, { head: "until", class: "date", cell: (each) => each.until },
        { head: "place", class: "place", cell: (each) => each.place },
    ], data.overrides, "unseen");
}
function warningTable() {
    if (data.warnings_in_all === 0) return el("p", { text: "Reading the plant folder gave no warning." });
    const rest = data.warnings_in_all - data.warnings.length;
    return [simpleTable("Warnings of reading the plant folder", [
        { head: "place", class: "place", cell: (each) => each.place }, { head: "about", cell: (each) => each.subject },
        { head: "found", class: "words", cell: (each) => each.found }, { head: "expected", class: "words", cell: (each) => each.expected },
        { head: "to mend it", class: "words", cell: (each) => each.mend },
    ], data.warnings, "unseen"), rest > 0 ? note(plural(rest, "more warning") + ": lagline check shows them.") : null];
}
function makeInputs(view) {
    view.append(card("Assumptions", gapTable()));
    if (data.margin_gaps.length > 0) {
        view.append(card("Units without a lost margin in plant.yaml", el("p", { text: data.margin_gaps.map((gap) => gap.unit + " (" + plural(gap.segments, "segment") + ")").join(", ") + ": the value of the rules is taken." })));
    }
    if (data.doubt !== null) {
        view.append(card("Find these records first", data.doubt.find_first.length === 0 ? el("p", { text: "No missing record leaves the first " + data.doubt.top + " in doubt." })
            : simpleTable("Missing records by how much of the doubt about the first " + data.doubt.top + " they settle", [
                { head: "segment", cell: (each) => segmentByName(each.segment) }, { head: "rank", number: true, cell: (each) => String(each.rank) },
                { head: "record", cell: (each) => spoken(each.record) },
                { head: "chance of the top group", number: true, cell: (each) => percent(each.top_probability) },
                { head: "doubt removed", number: true, cell: (each) => digits(each.doubt_removed, 2) },
            ], data.doubt.find_first)));
    }
    view.append(card("Overrides", overrideTable()), card("Warnings", warningTable()));
    view.append(card("Segments that are not ranked", data.not_ranked.length === 0 ? el("p", { text: "All are ranked." })
        : simpleTable("Not ranked, and why", [{ head: "segment", cell: (each) => el("span", { class: "name", text: each.segment }) }, { head: "reason", class: "words", cell: (each) => each.reason }], data.not_ranked, "unseen")));
}
function recalledTable() {
    if (data.recalled.length === 0) return el("p", { text: "None." });
    return [el("p", { text: plural(data.recalled.length, "value") + " of " + grouped(String(data.entries_in_all)) + " were written down from memory of the named source. Compare them with a licensed copy before you rely on them." }),
        simpleTable("Values recalled from memory", [
            { head: "table", cell: (each) => spoken(each.table) }, { head: "entry", cell: (each) => spoken(each.entry) },
            { head: "value", cell: (each) => spoken(each.value) }, { head: "source", class: "words", cell: (each) => sourceText(each.source, each.where) },
            { head: "place", class: "place", cell: (each) => each.place },
        ], data.recalled, "unseen")];
}
function makeRules(view) {
    view.append(el("p", { text: "Rule set: " + data.rules.join(" + ") + "." }), card("Recalled values, to be checked", recalledTable()));
    view.append(card("Changed by overlays", data.changes.length === 0 ? el("p", { text: "No value was changed." })
        : simpleTable("Changes", [
            { head: "what", cell: (each) => spoken(each.what) }, { head: "from", cell: (each) => each.from }, { head: "to", cell: (each) => each.to },
            { head: "reason", class: "words", cell: (each) => each.reason }, { head: "who", cell: (each) => each.who }, { head: "place", class: "place", cell: (each) => each.place },
        ], data.changes, "unseen")));
    view.append(card("Sources", simpleTable("Documents that values come from", [
        { head: "title", class: "words", cell: (each) => each.title }, { head: "edition", class: "words", cell: (each) => each.edition },
        { head: "entries", number: true, cell: (each) => String(each.entries) }, { head: "note", class: "words", cell: (each) => each.note },
    ], data.sources, "unseen")));
    view.append(card("Quantities of the method", simpleTable("Every quantity with its equation", [
        { head: "quantity", cell: (each) => spoken(each.key) }, { head: "symbol", cell: (each) => each.symbol }, { head: "unit", cell: (each) => each.unit },
        { head: "equation", cell: (each) => each.equation }, { head: "formula", class: "words formula", cell: (each) => each.formula },
        { head: "meaning", class: "words", cell: (each) => each.meaning }, { head: "source", class: "words", cell: (each) => each.source },
    ], data.quantities, "unseen")));
}
function makeAbout(view) {
    view.append(cautionBox(), card("How to read the page",
        el("ul", null,
            el("li", { text: "Risk is the expected loss a year: probability of a leak in a year times its cost. It is calculated at " + data.ranked_at + ": " + data.ranked_at_reason + "." }),
            el("li", { text: "A segment is due on the first day on which a criterion is reached if nothing is done. Criteria: " + data.criteria.text + "." }),
            el("li", { text: "Assumed means: the cell was not given, and a stated default or a derived value stands in its place." }),
            el("li", { text: "Every quantity of a segment opens to its equation, its inputs with file and line, and the rule entries with source and basis." }),
            el("li", { text: "A place like segments.csv:12 is file and line of the plant folder; for a rule, of the rule set." }))),
    card("Made by", el("p", { text: "Lagline " + data.version + " from " + plural(data.segments_in_plant, "segment") + " and " + plural(data.inspections_in_plant, "inspection") + ", as of " + data.today + ". The page loads nothing from anywhere." }),
        details("Licences of what the page contains", el("pre", { text: byId("licences").content.textContent }))));
}
