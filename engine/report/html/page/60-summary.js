// What a manager asks first.
function figure(value, words, more) {
    return el("div", { class: "figure" }, el("span", { class: "value", text: value }), el("span", { class: "words", text: words }),
        more ? el("span", { class: "more", text: more }) : null);
}
function makeFigures() {
    const overview = data.overview;
    const highest = data.bands.length - 1;
    const here = data.overview.risk_by_year;
    return el("div", { class: "figures" },
        figure(grouped(String(data.ranked)), "segments ranked", data.not_ranked.length > 0 ? plural(data.not_ranked.length, "segment") + " could not be ranked" : "of " + grouped(String(data.segments_in_plant)) + " in the line list"),
        figure(money(overview.risk) + " " + data.currency, "risk a year in sum, at " + data.ranked_at, "today " + money(here[0]) + " " + data.currency),
        figure(grouped(String(overview.bands[highest])), "in the band " + spoken(data.bands[highest].key), percent(overview.bands[highest] / Math.max(1, data.ranked)) + " of the ranked"),
        figure(grouped(String(overview.due)), "due by " + data.ranked_at, grouped(String(overview.due_today)) + " of them due now"),
        figure(percent(overview.first_ten_share), "of the risk is in the first ten"),
        figure(digits(overview.assumptions_mean, 3), "inputs assumed a segment", grouped(String(overview.never_inspected)) + " never inspected"));
}
function riskCourses(colours) {
    const years = data.ahead.dates.map(yearOf);
    const sets = [line("if nothing is done", years, data.overview.risk_by_year, colours.alarm, { borderWidth: 3 })];
    if (data.plan === null) return sets;
    let order = 0;
    for (const course of data.plan.courses) {
        const colour = course.is_plan ? colours.accent : colours.courses[++order % colours.courses.length];
        sets.push(line(course.name, years, course.risk, colour, course.is_plan ? { borderWidth: 3 } : { borderDash: [2 + 3 * order, 3] }));
    }
    return sets;
}
function riskChart() {
    return chartBox("Risk over the years, table below", (colours) => {
        const scales = { x: yearAxis(colours), y: axis(colours, data.currency + " a year", { beginAtZero: true }) };
        scales.y.ticks.callback = moneyTick;
        const options = frame(colours, scales, true);
        options.interaction = { mode: "index", intersect: false };
        options.plugins.tooltip.callbacks = {
            title: (items) => data.ahead.dates[items[0].dataIndex],
            label: (item) => item.dataset.label + ": " + money(item.parsed.y) + " " + data.currency + " a year",
        };
        return { type: "line", data: { datasets: riskCourses(colours) }, options };
    });
}
function dueChart() {
    const years = data.ahead.dates.slice(1).map((date) => date.slice(0, 4));
    return chartBox("Segments that become due in each year to come, table below", (colours) => {
        const scales = { x: axis(colours, "up to " + data.today.slice(5) + " of the year", { stacked: true, grid: { display: false } }),
            y: axis(colours, "segments", { stacked: true, beginAtZero: true }) };
        scales.y.ticks.precision = 0;
        const fills = [colours.alarm, colours.courses[0], colours.courses[1], colours.courses[2]];
        const sets = data.criteria.words.map((word, k) => ({
            label: "first by " + word, data: data.overview.due_by_year.slice(1).map((counts) => counts[k]), backgroundColor: fills[k],
            borderColor: colours.paper, borderWidth: 1, pointStyle: "rect" }));
        return { type: "bar", data: { labels: years, datasets: sets }, options: frame(colours, scales, true) };
    });
}
function yearTable() {
    const courses = data.plan === null ? [] : data.plan.courses;
    const columns = [
        { head: "date", class: "date", cell: (k) => data.ahead.dates[k] },
        { head: "if nothing is done", number: true, cell: (k) => money(data.overview.risk_by_year[k]) },
        ...courses.map((course) => ({ head: course.name, number: true, cell: (k) => money(course.risk[k]) })),
        ...data.criteria.words.map((word, at) => ({ head: "due by " + word, number: true, cell: (k) => String(data.overview.due_by_year[k][at]) })),
    ];
    return details("The figures of both charts", simpleTable("Risk in " + data.currency + " a year, and segments that become due", columns, data.ahead.dates.map((_, k) => k)));
}
function unitTable() {
    const columns = [
        { head: "unit", cell: (unit) => el("a", { href: "#segments", text: unit.unit, onclick: () => choose({ unit: unit.unit, band: "", due: "", text: "", cell: null }) }) },
        { head: "segments", number: true, cell: (unit) => grouped(String(unit.segments)) },
        ...bandsFromTop().map((band) => ({ head: spoken(data.bands[band].key), number: true, cell: (unit) => grouped(String(unit.bands[band])) })),
        { head: "due by " + data.ranked_at, number: true, cell: (unit) => grouped(String(unit.due)) },
        { head: "risk, " + data.currency + "/y", number: true, cell: (unit) => money(unit.risk) },
        { head: "share", number: true, cell: (unit) => percent(data.overview.risk > 0 ? unit.risk / data.overview.risk : 0) },
    ];
    return simpleTable("Process units, the greatest risk first", columns, data.overview.units, "unseen");
}
function topTen() {
    const columns = [
        { head: "rank", number: true, cell: (i) => String(i + 1) },
        { head: "segment", cell: segmentLink },
        { head: "line", cell: (i) => segments.line(i) },
        { head: "unit", cell: (i) => segments.unit(i) },
        { head: "band", cell: (i) => bandChip(bandOf(i)) },
        { head: "risk/y", number: true, cell: (i) => money(numberOf("risk", i)) },
        { head: "leak/y", number: true, cell: (i) => digits(numberOf("probability_of_failure", i), 2) },
        { head: "due", cell: dueCell },
        { head: "look first", class: "words", cell: firstSpot },
    ];
    const rows = [...Array(Math.min(10, count)).keys()];
    return simpleTable("First ten of the ranking; risk in " + data.currency, columns, rows, "unseen");
}
function firstSpot(i) {
    const spots = lists.spot_lists(i);
    return spots.length === 0 ? "" : data.spots[spots[0]][0];
}
function lacks() {
    const parts = [];
    const gaps = [...data.gaps].sort((a, b) => b.segments - a.segments).slice(0, 8);
    if (gaps.length === 0) parts.push(el("p", { text: "Every value that the method reads is given." }));
    else {
        parts.push(simpleTable("Columns of the line list with most gaps", [
            { head: "column", cell: (gap) => spoken(gap.column) },
            { head: "segments", number: true, cell: (gap) => grouped(String(gap.segments)) },
            { head: "share", number: true, cell: (gap) => percent(gap.segments / data.segments_in_plant) },
            { head: "taken instead", class: "words", cell: (gap) => gap.taken },
        ], gaps, "unseen"));
    }
    if (data.doubt === null) parts.push(note("How sure each rank is was not asked for: lagline report --samples N draws what is not known and shows it."));
    else if (data.doubt.find_first.length > 0) {
        parts.push(el("p", null, "The record to find first: ", el("strong", { text: spoken(data.doubt.find_first[0].record) }), " of ",
            segmentByName(data.doubt.find_first[0].segment), "."));
    }
    parts.push(el("p", null, el("a", { href: "#inputs", text: "All assumptions, overrides and warnings" })));
    return parts;
}
function cautionBox() {
    return el("aside", { class: "warn", "aria-label": "Cautions" }, el("h3", { text: "Before anyone acts on this" }),
        el("p", { text: data.screening_caution }), el("ul", null, data.field_cautions.map((text) => el("li", { text }))));
}
function engineerList() {
    const needs = data.needs_engineer_now;
    if (needs.length === 0) return [];
    return [el("h3", { text: "Needs an engineer now" }), el("p", { text: data.engineer_note }),
        simpleTable("Needs an engineer now: facts that stand above the ranking", [
            { head: "segment", cell: (need) => segmentByName(need.segment) },
            { head: "why", class: "words", cell: (need) => need.what },
            { head: "found", class: "date", cell: (need) => need.found },
            { head: "place", class: "place", cell: (need) => need.place },
        ], needs, "unseen")];
}
function makeSummary(view) {
    view.append(...engineerList());
    view.append(makeFigures());
    if (data.shown < data.ranked) {
        view.append(note("This page holds the " + plural(data.shown, "segment") + " of greatest risk of " + grouped(String(data.ranked)) + " ranked; figures, charts and units on this view are of all."));
    }
    view.append(note("Take sums of risk as shares to compare, not as money to be expected: the probabilities rest on a generic base and are cautious where nothing was looked at."));
    const planWords = data.plan === null
        ? el("p", { class: "note", id: "no-plan", text: "No plan has been made, so the curve shows what happens if nothing is done. A plan adds its own curve, and those of simple orders to compare it with." })
        : el("p", { class: "note", text: data.plan.summary });
    view.append(
        el("div", { class: "pair" }, card("Risk over the years", riskChart(), planWords), card("When segments become due", dueChart(), note(plural(data.overview.due_today, "segment") + " due already, not drawn. Criteria: " + data.criteria.text + "."))),
        yearTable(),
        card("Risk by unit", unitTable()),
        card("The first ten", topTen()),
        card("What the data lacks", lacks()),
        cautionBox());
}
