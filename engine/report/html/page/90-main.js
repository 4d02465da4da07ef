// Puts the views together and follows the address.
function optionList(select, pairs) {
    select.append(...pairs.map(([value, text]) => el("option", { value, text })));
    return select;
}
function labelled(text, control) { return el("label", null, el("span", { text }), control); }
function makeFilter() {
    const units = [...new Set(Array.from({ length: count }, (_, i) => segments.unit(i)))].sort(nameOrder.compare);
    const unit = optionList(el("select", { id: "filter-unit", onchange: () => choose({ unit: unit.value }) }), [["", "all"], ...units.map((name) => [name, name])]);
    const band = optionList(el("select", { id: "filter-band", onchange: () => choose({ band: band.value }) }),
        [["", "all"], ...bandsFromTop().map((code) => [String(code), spoken(data.bands[code].key)])]);
    const due = optionList(el("select", { id: "filter-due", onchange: () => choose({ due: due.value }) }),
        [["", "whenever"], ["now", "now"], ["rank", "by " + data.ranked_at], ["never", "not in sight"]]);
    const text = el("input", { id: "filter-text", type: "search", placeholder: "segment, line, area, drawing, fluid", oninput: () => choose({ text: text.value }) });
    const cell = el("button", { type: "button", id: "filter-cell", hidden: true, onclick: () => choose({ cell: null }) });
    const clear = el("button", { type: "button", id: "filter-clear", text: "Clear filters", onclick: () => choose({ unit: "", band: "", due: "", text: "", cell: null }) });
    onChoice.push(() => {
        unit.value = choice.unit;
        band.value = choice.band;
        due.value = choice.due;
        if (text.value !== choice.text) text.value = choice.text;
        cell.hidden = choice.cell === null;
        if (choice.cell !== null) {
            cell.textContent = "Cell " + data.matrix.probabilities[choice.cell.probability].key + "/" + data.matrix.consequences[choice.cell.consequence].key + " \u2715";
            cell.setAttribute("aria-label", "Remove the filter by cell of the matrix");
        }
        clear.disabled = [choice.unit, choice.band, choice.due, choice.text].every((each) => each === "") && choice.cell === null;
    });
    return el("form", { class: "filter", role: "search", "aria-label": "Filter of segments", onsubmit: (event) => event.preventDefault() },
        labelled("Unit", unit), labelled("Band", band), labelled("Due", due), labelled("Search", text), cell, clear);
}
function makeSegments(view) {
    const panels = el("details", { class: "panels", open: true }, el("summary", { text: "Risk matrix and plot plan" }),
        el("div", { class: "pair" }, card("Risk matrix", makeMatrix()), card("Plot plan", makePlot())));
    panels.addEventListener("toggle", () => drawVisible(false));
    view.append(makeFilter(), panels, makeTable());
    choose({});
}

const views = [
    { id: "summary", title: "Summary", make: makeSummary },
    { id: "segments", title: "Segments", make: makeSegments },
    { id: "plan", title: "Plan", make: makePlan },
    { id: "inputs", title: "Assumptions", make: makeInputs },
    { id: "rules", title: "Rules", make: makeRules },
    { id: "about", title: "Cautions", make: makeAbout },
];
const made = new Set();
function ensure(view) {
    if (made.has(view.id)) return;
    made.add(view.id);
    view.make(byId(view.id));
}
function route(first) {
    const address = location.hash.slice(1);
    const named = address.startsWith("segment=") ? indexOfSegment.get(decodeURIComponent(address.slice(8))) : undefined;
    const view = views.find((each) => each.id === address) || views[0];
    const shownId = named === undefined ? view.id : "segment";
    for (const each of [...views, { id: "segment" }]) byId(each.id).hidden = each.id !== shownId;
    if (named === undefined) ensure(view);
    else makeSegment(byId("segment"), named);
    const current = named === undefined ? view.id : "segments";
    for (const link of byId("views").children) {
        if (link.hash === "#" + current) link.setAttribute("aria-current", "page");
        else link.removeAttribute("aria-current");
    }
    document.title = (named === undefined ? view.title : segments.segment(named)) + " \u2013 " + data.plant + ": Lagline report";
    drawVisible(false);
    if (first) return;
    scrollTo(0, 0);
    byId(shownId + "-title").focus({ preventScroll: true });
}

byId("plant").textContent = data.plant;
byId("plant-line").textContent = "As of " + data.today + "; ranked at " + data.ranked_at + " (" + data.ranked_at_reason + "); rules " +
    data.rules.join(" + ") + "; money in " + data.currency + ".";
byId("foot").textContent = data.screening_caution;
byId("views").append(...views.map((view) => el("a", { href: "#" + view.id, text: view.title })));
byId("skip").addEventListener("click", (event) => { event.preventDefault(); byId("main").focus(); });
// The list of segments in their first order, so that a segment opened by its address has neighbours.
choose({});
addEventListener("hashchange", () => route(false));
route(true);
