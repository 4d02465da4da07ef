// Everything is put into the page as text nodes and attributes, never as markup.
function el(tag, attributes, ...children) {
    const node = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes || {})) {
        if (value === null || value === undefined || value === false) continue;
        if (name === "text") node.textContent = value;
        else if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
        else node.setAttribute(name, value === true ? "" : value);
    }
    for (const child of children.flat(Infinity)) {
        if (child !== null && child !== undefined) node.append(child);
    }
    return node;
}
function byId(id) { return document.getElementById(id); }

// Glyphs of the looks of a band: told apart by shape, colour and, beside them, a word.
const glyphs = ["\u25cf", "\u25a0", "\u25b2", "\u25c6"];
function lookOf(band) { return data.bands[band].look; }
function bandMark(band) {
    return el("span", { class: "glyph look" + lookOf(band), "aria-hidden": "true", text: glyphs[lookOf(band)] });
}
function bandChip(band) {
    return el("span", { class: "band" }, bandMark(band), " " + spoken(data.bands[band].key));
}
function bandsFromTop() { return data.bands.map((_, band) => band).reverse(); }

function segmentHref(i) { return "#segment=" + encodeURIComponent(segments.segment(i)); }
function segmentLink(i) {
    return el("a", { href: segmentHref(i), class: "name", text: segments.segment(i) });
}
// A link where the page holds the segment, else its name.
function segmentByName(name) {
    return indexOfSegment.has(name) ? segmentLink(indexOfSegment.get(name)) : el("span", { class: "name", text: name });
}

// columns: {head, number, cell(row)}; caption is read out and, unless hidden, shown.
function simpleTable(caption, columns, rows, captionClass) {
    const head = el("tr", null, columns.map((column) => el("th", { scope: "col", class: column.number ? "number" : null, text: column.head })));
    const body = rows.map((row) => el("tr", null, columns.map((column) => {
        const cell = column.cell(row);
        return el("td", { class: (column.number ? "number " : "") + (column.class || "") || null }, cell === null ? "" : cell);
    })));
    return el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": caption },
        el("table", null, el("caption", { class: captionClass || null, text: caption }), el("thead", null, head), el("tbody", null, body)));
}

function details(title, ...content) {
    return el("details", null, el("summary", { text: title }), content);
}
function card(title, ...content) {
    return el("section", { class: "card" }, el("h3", { text: title }), content);
}
function note(text) { return el("p", { class: "note", text }); }
