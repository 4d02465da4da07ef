// The ranking table, a page of rows at a time.
const rowsOfPage = 100;
const rowsOfPrint = 500;
const tableColumns = [
    { key: "rank", head: "rank", number: true, value: (i) => i + 1 },
    { key: "today", head: "today", number: true, title: "rank today", value: (i) => segments.rank_today(i) || null },
    { key: "segment", head: "segment", value: (i) => segments.segment(i), cell: segmentLink },
    { key: "line", head: "line", value: (i) => segments.line(i) },
    { key: "unit", head: "unit", value: (i) => segments.unit(i) },
    { key: "band", head: "band", value: bandOf, cell: (i) => bandChip(bandOf(i)), down: true },
    { key: "risk", head: "risk/y", number: true, title: "risk a year, " + data.currency, value: (i) => numberOf("risk", i), cell: (i) => money(numberOf("risk", i)), down: true },
    { key: "leak", head: "leak/y", number: true, title: "probability of a leak in a year", value: (i) => numberOf("probability_of_failure", i), cell: (i) => digits(numberOf("probability_of_failure", i), 2), down: true },
    { key: "cost", head: "cost", number: true, title: "cost of a leak, " + data.currency, value: (i) => numberOf("leak_cost", i), cell: (i) => money(numberOf("leak_cost", i)), down: true },
    { key: "due", head: "due", title: "first day on which a criterion is reached", value: (i) => { const due = dueOf(i); return due === null ? null : due.day; }, cell: dueCell },
    { key: "gaps", head: "gaps", number: true, title: "inputs assumed", value: (i) => segments.assumptions(i), down: true },
];
if (doubt !== null) {
    tableColumns.push(
        { key: "top", head: "in top " + data.doubt.top, number: true, title: "chance of belonging to the top group", value: (i) => doubt.top_probability(i), cell: (i) => percent(doubt.top_probability(i)), down: true },
        { key: "range", head: "rank 10\u201390" + thin + "%", number: true, value: (i) => doubt.rank_low(i), cell: (i) => digits(doubt.rank_low(i), 6) + "\u2013" + digits(doubt.rank_high(i), 6) });
}
tableColumns.push({ key: "why", head: "worse than typical in", cell: (i) => driverWords(i), class: "words" });

function dueCell(i) {
    const due = dueOf(i);
    return due === null ? "" : dueText(due) + " (" + due.by + ")";
}
function driverWords(i) {
    return lists.drivers(i).slice(0, 2).map((at) => {
        const quantity = data.quantities[at];
        return spoken(quantity.key) + " " + (quantity.at(i) < 1e4 ? digits(quantity.at(i), 2) : money(quantity.at(i)));
    }).join(", ");
}

function makeTable() {
    let page = 0;
    const heads = new Map();
    const body = el("tbody");
    const head = el("tr", null, tableColumns.map((column) => {
        if (!column.value) return el("th", { scope: "col", text: column.head });
        const button = el("button", { type: "button", title: column.title, onclick: () => sortBy(column) }, column.head);
        const cell = el("th", { scope: "col", class: column.number ? "number" : null }, button);
        heads.set(column.key, cell);
        return cell;
    }));
    const status = el("p", { class: "status", id: "table-status", role: "status" });
    const pages = el("div", { class: "pager", role: "group", "aria-label": "Pages of the table" });
    const table = el("table", { class: "ranking", id: "ranking" },
        el("caption", { class: "unseen", text: "Segments that pass the filter" }), el("thead", null, head), body);

    function sortBy(column) {
        const down = choice.sort === column.key ? !choice.down : Boolean(column.down);
        choose({ sort: column.key, down });
    }
    function row(i) {
        return el("tr", { "data-index": i }, tableColumns.map((column) => el("td", {
            class: ((column.number ? "number " : "") + (column.class || "")).trim() || null,
        }, column.cell ? column.cell(i) : String(column.value(i) ?? ""))));
    }
    function fill(from, to) {
        body.replaceChildren(...chosen.slice(from, to).map(row));
    }
    function turn(to) {
        page = to;
        show();
        table.scrollIntoView({ block: "start" });
    }
    function show() {
        const last = Math.max(0, Math.ceil(chosen.length / rowsOfPage) - 1);
        page = Math.min(page, last);
        const from = page * rowsOfPage;
        fill(from, from + rowsOfPage);
        const turnButton = (text, to, off) => el("button", { type: "button", disabled: off, onclick: () => turn(to), text });
        pages.replaceChildren(
            turnButton("First", 0, page === 0), turnButton("Previous", page - 1, page === 0),
            el("span", { text: chosen.length === 0 ? "no rows" : "rows " + grouped(String(from + 1)) + " to " + grouped(String(Math.min(chosen.length, from + rowsOfPage))) }),
            turnButton("Next", page + 1, page === last), turnButton("Last", last, page === last));
        const risk = chosen.reduce((sum, i) => sum + numberOf("risk", i), 0);
        status.textContent = plural(chosen.length, "segment") + " of " + grouped(String(count)) +
            ", together " + money(risk) + " " + data.currency + " a year";
        for (const [key, cell] of heads) {
            if (key === choice.sort) cell.setAttribute("aria-sort", choice.down ? "descending" : "ascending");
            else cell.removeAttribute("aria-sort");
        }
    }
    body.addEventListener("click", (event) => {
        const at = event.target.closest("tr");
        if (at !== null && event.target.closest("a") === null && String(getSelection()) === "") {
            location.hash = segmentHref(Number(at.dataset.index));
        }
    });
    // Up and down go from name to name, as in a list.
    body.addEventListener("keydown", (event) => {
        const steps = { ArrowDown: "nextElementSibling", ArrowUp: "previousElementSibling" };
        const at = event.target.closest("tr");
        const to = at !== null && event.key in steps ? at[steps[event.key]] : null;
        if (to === null) return;
        event.preventDefault();
        to.querySelector("a").focus();
    });
    onChoice.push(() => { page = 0; show(); });
    const cut = el("p", { class: "print-only" });
    beforePrint.push(() => {
        fill(0, rowsOfPrint);
        cut.textContent = chosen.length > rowsOfPrint ? "Printed: the first " + rowsOfPrint + " of " + chosen.length + ". Filter to print others." : "";
    });
    afterPrint.push(show);
    return el("div", null, status, el("div", { class: "scroll list", tabindex: "0", role: "group", "aria-label": "Ranking" }, table), pages, cut);
}
