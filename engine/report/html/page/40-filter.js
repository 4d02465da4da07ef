// Which segments are looked at, and in which order.  Table, matrix and plot show the same choice.
const choice = { unit: "", band: "", due: "", text: "", cell: null, sort: "rank", down: false };
const onChoice = [];
let chosen = [];

const haystack = [];
for (let i = 0; i < count; ++i) {
    haystack.push(["segment", "line", "unit", "area", "drawing", "scaffold_group", "fluid"]
        .map((key) => segments[key](i)).join("\n").toLowerCase());
}
const bandOf = (i) => numberOf("risk_category", i);
const probabilityOf = (i) => numberOf("probability_category", i);
const consequenceOf = (i) => numberOf("consequence_category", i);

function isDue(i) {
    if (choice.due === "") return true;
    const due = dueOf(i);
    if (choice.due === "never") return due === null;
    if (due === null) return false;
    return choice.due === "now" ? due.day <= todayNumber : due.day <= rankDayNumber;
}
function passes(i, words, heedCell) {
    if (choice.unit !== "" && segments.unit(i) !== choice.unit) return false;
    if (choice.band !== "" && bandOf(i) !== Number(choice.band)) return false;
    if (heedCell && choice.cell !== null &&
        (probabilityOf(i) !== choice.cell.probability || consequenceOf(i) !== choice.cell.consequence)) return false;
    if (!words.every((word) => haystack[i].includes(word))) return false;
    return isDue(i);
}
function passing(heedCell) {
    const words = choice.text.toLowerCase().split(/\s+/).filter((word) => word !== "");
    const rows = [];
    for (let i = 0; i < count; ++i) if (passes(i, words, heedCell)) rows.push(i);
    return rows;
}
function inOrder(rows, value, down) {
    const keys = new Map(rows.map((i) => [i, value(i)]));
    const compare = (a, b) => {
        const x = keys.get(a);
        const y = keys.get(b);
        if (x === y) return a - b;
        // Nothing known goes last, whichever way.
        if (x === null) return 1;
        if (y === null) return -1;
        const order = typeof x === "string" ? nameOrder.compare(x, y) : x - y;
        return (down ? -order : order) || a - b;
    };
    return rows.sort(compare);
}
const nameOrder = new Intl.Collator("en", { numeric: true });
function choose(changes) {
    Object.assign(choice, changes);
    const column = tableColumns.find((each) => each.key === choice.sort);
    const rows = passing(true);
    chosen = choice.sort === "rank" && !choice.down ? rows : inOrder(rows, column.value, choice.down);
    for (const step of onChoice) step();
}
