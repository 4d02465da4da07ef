// One segment: why it stands where it does.
function fact(name, ...value) {
    return el("div", null, el("dt", { text: name }), el("dd", null, value));
}
function quantityText(quantity, i, significant) {
    const value = quantity.at(i);
    if (quantity.words) return spoken(quantity.words[value]);
    return digits(value, significant || quantity.digits + 1) + (quantity.unit === "" ? "" : " " + quantity.unit);
}
function dueLines(i) {
    const lines = data.criteria.words.map((by) => ({ by, day: segments["due_by_" + by](i) })).filter((each) => each.day !== null);
    if (lines.length === 0) return "not within the years of the forecast";
    return lines.map((each) => (each.day <= todayNumber ? "now" : dayText(each.day)) + " by its " + each.by).join("; ");
}
function facts(i) {
    const today = segments.rank_today(i);
    const list = [
        fact("rank", i + 1 + " of " + grouped(String(data.ranked)) + " at " + data.ranked_at + (today > 0 ? "; today " + today : "")),
        fact("band", bandChip(bandOf(i)), " (probability " + spoken(data.matrix.probabilities[probabilityOf(i)].key) + ", consequence " + data.matrix.consequences[consequenceOf(i)].key + ")"),
        fact("risk", money(numberOf("risk", i)) + " " + data.currency + " a year; today " + money(segments.risk_today(i))),
        fact("probability of a leak", digits(numberOf("probability_of_failure", i), 3) + " a year"),
        fact("cost of a leak", money(numberOf("leak_cost", i)) + " " + data.currency),
        fact("due", dueLines(i)),
        fact("inputs assumed", String(segments.assumptions(i))),
    ];
    if (doubt !== null) {
        list.push(fact("how sure", percent(doubt.top_probability(i)) + " chance of the first " + data.doubt.top + "; rank " +
            digits(doubt.rank_low(i), 6) + " to " + digits(doubt.rank_high(i), 6) + " in 80" + thin + "% of " + data.doubt.samples + " samples"));
    }
    return el("dl", { class: "facts" }, list);
}
function driverTable(i) {
    const rows = lists.drivers(i).map((at) => data.quantities[at]);
    if (rows.length === 0) return el("p", { text: "In nothing: it is a typical segment." });
    return simpleTable("Where it is worse than the median segment", [
        { head: "quantity", cell: (quantity) => spoken(quantity.key) },
        { head: "here", number: true, cell: (quantity) => quantityText(quantity, i, 3) },
        { head: "median", number: true, cell: (quantity) => digits(quantity.median, 3) + (quantity.unit === "" ? "" : " " + quantity.unit) },
    ], rows, "unseen");
}
function probabilityChart(i) {
    const years = data.ahead.dates.map(yearOf);
    const curve = ahead.probability(i);
    return chartBox("Probability of a leak of " + segments.segment(i) + " over the years, table below", (colours) => {
        const sets = [line("as calculated", years, curve, colours.accent, { borderWidth: 3 })];
        const ranges = rangesOf(i);
        if (ranges !== null) {
            const at = data.doubt.range_dates.map(yearOf);
            sets.push(line("90 % of samples lie below", at, ranges.high, colours.quiet, { borderWidth: 1, fill: "+1", backgroundColor: colours.veil }));
            sets.push(line("10 % of samples lie below", at, ranges.low, colours.quiet, { borderWidth: 1 }));
            sets.push(line("middle of the samples", at, ranges.middle, colours.quiet, { borderDash: [2, 3] }));
        }
        if (data.criteria.probability !== undefined) sets.push(level("criterion", data.criteria.probability, colours.alarm));
        const scales = { x: yearAxis(colours), y: axis(colours, "leaks a year", { type: "logarithmic" }) };
        scales.y.ticks.callback = function (value) { return decadeTick(value, this.max / this.min < 100); };
        const options = frame(colours, scales, true);
        options.plugins.tooltip.callbacks = { title: () => "", label: (item) => item.dataset.label + ", " + digits(item.parsed.x, 6) + ": " + digits(item.parsed.y, 3) + " a year" };
        return { type: "line", data: { datasets: sets }, options };
    });
}
// Powers of ten; twice and five times as much too where they lie wide apart.
function decadeTick(value, wide) {
    const first = Number(value.toExponential(5)[0]);
    return first === 1 || (wide && (first === 2 || first === 5)) ? digits(value, 2) : "";
}
function rangesOf(i) {
    if (doubt === null || !doubt.low || doubt.low(i).length === 0) return null;
    return { low: doubt.low(i), middle: doubt.middle(i), high: doubt.high(i) };
}
function wallChart(i) {
    const years = data.ahead.dates.map(yearOf);
    return chartBox("Expected wall of " + segments.segment(i) + " over the years, table below", (colours) => {
        const sets = [line("expected wall", years, ahead.wall(i), colours.accent, { borderWidth: 3 }),
            level("minimum thickness", ahead.minimum_thickness(i), colours.alarm)];
        const scales = { x: yearAxis(colours), y: axis(colours, "mm", {}) };
        const options = frame(colours, scales, true);
        options.plugins.tooltip.callbacks = { title: () => "", label: (item) => item.dataset.label + ", " + digits(item.parsed.x, 6) + ": " + digits(item.parsed.y, 3) + " mm" };
        return { type: "line", data: { datasets: sets }, options };
    });
}
function curveTable(i) {
    const columns = [{ head: "date", class: "date", cell: (k) => data.ahead.dates[k] },
        { head: "leak/y", number: true, cell: (k) => digits(ahead.probability(i)[k], 3) },
        { head: "risk, " + data.currency + "/y", number: true, cell: (k) => money(ahead.risk(i)[k]) }];
    if (ahead.wall(i) !== null) {
        columns.push({ head: "expected wall, mm", number: true, cell: (k) => digits(ahead.wall(i)[k], 3) },
            { head: "chance below minimum", number: true, cell: (k) => digits(ahead.below_minimum(i)[k], 2) });
    }
    return details("The figures of the curves", simpleTable("The years ahead if nothing is done", columns, data.ahead.dates.map((_, k) => k)));
}
function curves(i) {
    if (ahead.probability(i) === null) return note("Today's date keeps the segment out of the forecast.");
    const ranges = rangesOf(i);
    return [el("div", { class: "pair" }, el("div", null, el("h4", { text: "Probability of a leak" }), probabilityChart(i)),
        ahead.wall(i) === null ? null : el("div", null, el("h4", { text: "Wall" }), wallChart(i))),
        note(ranges === null
            ? "If nothing is done. The band of uncertainty is drawn when the report is made with --samples N."
            : "If nothing is done. The shaded band holds 80 % of " + data.doubt.samples + " samples of what is not known; between its dates it runs straight."),
        curveTable(i)];
}
function inspectionTable(i) {
    const rows = lists.inspections(i);
    if (rows.length === 0) return el("p", { text: "None on record." });
    return simpleTable("Inspections by date", [
        { head: "date", class: "date", cell: (each) => each[0] },
        { head: "technique", cell: (each) => spoken(each[1]) },
        { head: "cover, %", number: true, cell: (each) => digits(each[2], 3) },
        { head: "effectiveness", cell: (each) => each[3].toUpperCase() },
        { head: "wall, mm", number: true, cell: (each) => digits(each[4], 4) },
        { head: "rust grade", number: true, cell: (each) => digits(each[5], 2) },
        { head: "used for", class: "words", cell: (each) => each[8] || "nothing" },
        { head: "report", cell: (each) => each[6] },
        { head: "place", class: "place", cell: (each) => each[7] + "; rule " + each[10] },
    ], rows, "unseen");
}
const monthNames = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
function monthText(bits) { return monthNames.filter((_, month) => (bits >> month) & 1).join(" ") || "no month"; }
function conditions(i) {
    const levels = lists.levels(i);
    const [steel, jacket] = lists.sweating(i);
    const parts = [];
    if (levels.length > 0) {
        parts.push(el("p", { text: "Metal temperature over the year: " + levels.map(([degc, share]) => digits(degc, 3) + " degC for " + percent(share)).join(", ") + "." }));
    }
    if (steel !== 0) parts.push(el("p", { text: "The steel is below the dew point in " + monthText(steel) + "; the jacket sweats in " + monthText(jacket) + "." }));
    return parts;
}
function makeSegment(view, i) {
    const title = byId("segment-title");
    title.textContent = segments.segment(i);
    const place = chosen.indexOf(i);
    const step = (text, to) => (to >= 0 && to < chosen.length && place >= 0 ? el("a", { class: "button", href: segmentHref(chosen[to]), text }) : null);
    const about = ["line", "unit", "area", "drawing", "scaffold_group", "fluid"]
        .filter((key) => segments[key](i) !== "").map((key) => spoken(key) + " " + segments[key](i));
    about.push("mechanism " + spoken(segments.mechanism(i)));
    const own = lists.caution_lists(i).map((at) => data.segment_cautions[at]);
    const spots = lists.spot_lists(i).map((at) => data.spots[at]);
    view.replaceChildren(title, el("p", { class: "steps no-print" }, step("Previous in the list", place - 1), step("Next in the list", place + 1), el("a", { class: "button", href: "#segments", text: "Back to the list" })),
        el("p", { class: "about", text: about.join("; ") }), facts(i),
        own.length === 0 ? "" : el("aside", { class: "warn", "aria-label": "Cautions for this segment" }, el("ul", null, own.map((text) => el("li", { text })))),
        el("div", { class: "pair" }, card("Worse than typical in", driverTable(i)),
            card("Where to look first", el("ol", null, spots.map(([where, why]) => el("li", null, where, el("span", { class: "quiet", text: " (" + why + ")" })))))),
        card("The years ahead", curves(i)), card("Inspection history", inspectionTable(i)),
        card("How the numbers come about", conditions(i), rationale(i)),
        doubtCard(i), cautionBox());
}
function doubtCard(i) {
    if (doubt === null) return "";
    const gaps = doubt.gaps(i);
    const rows = [...gaps].sort((a, b) => b[1] - a[1]);
    return card("What makes its rank unsure", rows.length === 0 ? el("p", { text: "Nothing: every cell is known." })
        : simpleTable("Cells that are not known", [
            { head: "cell", cell: (gap) => spoken(data.doubt.gap_names[gap[0]]) },
            { head: "share of the variance of the rank", number: true, cell: (gap) => percent(gap[1]) },
        ], rows, "unseen"));
}
