// Every number of one segment with its equation, the cells and the rule entries it is made of.
function inputOf(quantity, key, i) {
    if (key !== quantity.key) {
        const other = quantityOf(key, i);
        if (other !== null) return { other };
    }
    const slot = slots[key + "@" + quantity.key] || slots[key];
    const at = slot ? slot(i) : -1;
    return at === null || at === undefined || at < 0 ? null : { input: data.inputs[at] };
}
function inputLine(quantity, key, i) {
    const found = inputOf(quantity, key, i);
    if (found === null) return null;
    if (found.other) {
        return el("li", null, el("button", { type: "button", class: "link", text: spoken(key), onclick: () => openQuantity(found.other) }),
            " " + quantityText(found.other, i));
    }
    const [shown, state, assumed, place, reason, replaced] = found.input;
    return el("li", null, spoken(key) + " " + shown,
        assumed ? el("strong", { class: "assumed", text: " assumed: " + state }) : state === "given" ? null : " (" + state + ")",
        replaced === "" ? null : el("strong", { text: " override of " + replaced }),
        reason === "" ? null : " \u2013 " + reason,
        el("span", { class: "place", text: " " + (place === "" ? data.segments_file + ":" + lists.row_lines(i) + ", column " + key : place) }));
}
function entryLine(at) {
    const [table, entry, value, basis, source, where, place, outside, reason, replaced] = data.entries[at];
    return el("li", null, "rule " + spoken(table) + (entry === "" ? "" : ", " + spoken(entry)) + " = " + spoken(value) + " ",
        el("span", { class: basis === "recalled" ? "basis recalled" : "basis", text: basis }),
        outside ? el("strong", { text: " outside its range" }) : null,
        source === "" ? null : " " + sourceText(source, where),
        reason === "" ? null : " \u2013 " + (replaced === "" ? "reason: " : "changed from " + replaced + ": ") + reason,
        el("span", { class: "place", text: " " + place }));
}
const sourceById = new Map(data.sources.map((source) => [source.id, source]));
function sourceText(id, where) {
    const source = sourceById.get(id);
    return (source ? source.title : id) + (where === "" ? "" : ", " + where);
}
function quantityDetails(quantity, i) {
    const inputs = quantity.inputs.map((key) => inputLine(quantity, key, i)).filter((line) => line !== null);
    const at = quantity.rulesAt(i);
    const entries = at < 0 ? [] : data.entry_lists[at].map(entryLine);
    const formula = quantity.equation + ": " + quantity.formula;
    return el("details", { class: "quantity", "data-key": quantity.key },
        el("summary", null, el("span", { class: "what", text: spoken(quantity.key) }), el("span", { class: "symbol", text: quantity.symbol }),
            el("span", { class: "result", text: quantityText(quantity, i) })),
        el("p", { text: quantity.meaning }),
        el("p", { class: "formula", text: formula }),
        el("p", { class: "quiet", text: "Source of the equation: " + quantity.source }),
        inputs.length + entries.length === 0 ? null : el("ul", null, inputs, entries));
}
function openQuantity(quantity) {
    const node = byId("segment").querySelector('details[data-key="' + CSS.escape(quantity.key) + '"]');
    if (node === null) return;
    node.open = true;
    node.querySelector("summary").focus();
    node.scrollIntoView({ block: "center" });
}
function rationale(i) {
    const sections = new Map();
    for (const quantity of data.quantities) {
        if (quantity.at(i) === null) continue;
        if (!sections.has(quantity.section)) sections.set(quantity.section, []);
        sections.get(quantity.section).push(quantityDetails(quantity, i));
    }
    const all = (open) => { for (const node of byId("segment").querySelectorAll("details.quantity")) node.open = open; };
    const buttons = el("p", { class: "no-print" }, el("button", { type: "button", id: "open-all", text: "Open all", onclick: () => all(true) }), " ",
        el("button", { type: "button", text: "Close all", onclick: () => all(false) }));
    return [buttons, [...sections].map(([title, nodes]) => [el("h4", { text: title }), nodes]),
        note("Numbers carry up to six digits here. lagline explain and the CSV and JSON of lagline rank carry all of them.")];
}
// On paper nothing can be opened any more.  Quantities print as they stand: all of them open are
// some twenty pages a segment.
let closedForPrint = [];
beforePrint.push(() => {
    closedForPrint = [...document.querySelectorAll("section:not([hidden]) details:not([open], .quantity)")];
    for (const node of closedForPrint) node.open = true;
});
afterPrint.push(() => { for (const node of closedForPrint) node.open = false; });
