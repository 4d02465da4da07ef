// The data of the page, as report_data() wrote it: columns by rank, rank 1 first, index 0.
const data = JSON.parse(document.getElementById("data").textContent);
const count = data.shown;

// Reads a column: an array, {all: value} or {words, codes}.
function reader(column) {
    if (column === null || column === undefined) return () => null;
    if (Array.isArray(column)) return (i) => column[i];
    if ("all" in column) return () => column.all;
    return (i) => column.words[column.codes[i]];
}
function readers(columns) {
    const all = {};
    for (const [key, column] of Object.entries(columns)) {
        if (typeof column === "object") all[key] = reader(column);
    }
    return all;
}

const segments = readers(data.segments);
const ahead = readers(data.ahead);
const doubt = data.doubt === null ? null : readers(data.doubt);
const slots = readers(data.slots);
const lists = {};
for (const key of ["row_lines", "drivers", "levels", "sweating", "spot_lists", "caution_lists", "inspections"]) {
    lists[key] = reader(data[key]);
}

const quantitiesByKey = new Map();
for (const quantity of data.quantities) {
    quantity.at = reader(quantity.values);
    quantity.rulesAt = reader(quantity.rules);
    if (!quantitiesByKey.has(quantity.key)) quantitiesByKey.set(quantity.key, []);
    quantitiesByKey.get(quantity.key).push(quantity);
}

// The quantity of this key that the segment has; of two mechanisms only its own is filled.
function quantityOf(key, i) {
    const all = quantitiesByKey.get(key) || [];
    return all.find((quantity) => quantity.at(i) !== null) || null;
}
function numberOf(key, i) {
    const quantity = quantityOf(key, i);
    return quantity === null ? null : quantity.at(i);
}

const indexOfSegment = new Map();
for (let i = 0; i < count; ++i) indexOfSegment.set(segments.segment(i), i);

// The first criterion that is reached, and its day; null when none is within the horizon.
function dueOf(i) {
    let first = null;
    for (const by of data.criteria.words) {
        const day = segments["due_by_" + by](i);
        if (day !== null && (first === null || day < first.day)) first = { day, by };
    }
    return first;
}
const dayMs = 86400000;
function dayNumber(iso) { return Math.round(Date.parse(iso + "T00:00:00Z") / dayMs); }
function dayText(day) { return new Date(day * dayMs).toISOString().slice(0, 10); }
const todayNumber = dayNumber(data.today);
const rankDayNumber = dayNumber(data.ranked_at);
// A date as a number on an axis of years.
function yearOf(iso) {
    const year = Number(iso.slice(0, 4));
    const start = Date.UTC(year, 0, 1);
    return year + (Date.parse(iso + "T00:00:00Z") - start) / (Date.UTC(year + 1, 0, 1) - start);
}
function dueText(due) {
    if (due === null) return "not in sight";
    return due.day <= todayNumber ? "now" : dayText(due.day);
}

const thin = "\u202f";
function grouped(digits) { return digits.replace(/\B(?=(\d{3})+$)/g, thin); }
// So many significant digits, whole digits always in full.
function digits(value, significant) {
    if (value === null || value === undefined) return "";
    if (value === 0) return "0";
    const size = Math.floor(Math.log10(Math.abs(value)));
    if (size < -4) {
        return value.toExponential(significant - 1).replace(/\.?0+e/, "e");
    }
    const fixed = value.toFixed(Math.max(0, significant - 1 - size));
    const text = fixed.includes(".") ? fixed.replace(/\.?0+$/, "") : fixed;
    const [whole, part] = text.split(".");
    return (whole.length > 4 ? grouped(whole) : whole) + (part ? "." + part : "");
}
function money(value) {
    if (value === null || value === undefined) return "";
    for (const [step, letter] of [[1e9, "G"], [1e6, "M"], [1e3, "k"]]) {
        // 999 900 rounds to 1 M, not to 1000 k.
        if (Math.abs(value) >= 0.9995 * step) return digits(value / step, 3) + thin + letter;
    }
    return digits(value, 3);
}
function percent(share) {
    if (share > 0 && share < 0.01) return "<1" + thin + "%";
    return Math.round(100 * share) + thin + "%";
}
function spoken(key) { return key.replaceAll("_", " "); }
function plural(number, noun) {
    return grouped(String(number)) + " " + noun + (number === 1 ? "" : "s");
}
