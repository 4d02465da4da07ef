// The risk matrix: counts by category, each a button that filters.
function limitText(range, write) {
    if (range.from === null && range.to === null) return "";
    if (range.to === null) return "above " + write(range.from);
    return "to " + write(range.to);
}
function makeMatrix() {
    const { probabilities, consequences, bands } = data.matrix;
    const buttons = [];
    function cellButton(probability, consequence) {
        const band = bands[probability * consequences.length + consequence];
        const number = el("span", { class: "count" });
        const button = el("button", { type: "button", class: "cell tint" + lookOf(band), "aria-pressed": "false",
            onclick: () => {
                const same = choice.cell !== null && choice.cell.probability === probability && choice.cell.consequence === consequence;
                choose({ cell: same ? null : { probability, consequence } });
            } }, bandMark(band), " ", number);
        buttons.push({ button, number, probability, consequence, band });
        return el("td", null, button);
    }
    const rows = probabilities.map((range, probability) => el("tr", null,
        el("th", { scope: "row" }, spoken(range.key), el("small", { text: limitText(range, (value) => digits(value, 3)) })),
        consequences.map((_, consequence) => cellButton(probability, consequence)))).reverse();
    const foot = el("tr", null, el("th", { scope: "row", text: "cost of a leak, " + data.currency }),
        consequences.map((range) => el("th", { scope: "col" }, spoken(range.key), el("small", { text: limitText(range, money) }))));
    const table = el("table", { class: "matrix", id: "matrix" },
        el("caption", { text: "Probability of a leak in a year (up) by cost of a leak (across); press a cell to see its segments" }),
        el("tbody", null, rows), el("tfoot", null, foot));
    function show() {
        const counts = new Map();
        for (const i of passing(false)) {
            const key = probabilityOf(i) * consequences.length + consequenceOf(i);
            counts.set(key, (counts.get(key) || 0) + 1);
        }
        for (const each of buttons) {
            const here = counts.get(each.probability * consequences.length + each.consequence) || 0;
            each.number.textContent = here === 0 ? "\u2013" : grouped(String(here));
            const pressed = choice.cell !== null && choice.cell.probability === each.probability && choice.cell.consequence === each.consequence;
            each.button.setAttribute("aria-pressed", String(pressed));
            each.button.setAttribute("aria-label", "probability " + probabilities[each.probability].key + ", consequence " +
                consequences[each.consequence].key + ", " + spoken(data.bands[each.band].key) + ": " + plural(here, "segment"));
        }
    }
    onChoice.push(show);
    return el("div", null, table, legend());
}
function legend() {
    return el("p", { class: "legend" }, bandsFromTop().map((band) => bandChip(band)));
}
