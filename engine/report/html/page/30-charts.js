// Charts are drawn by Chart.js; here are their colours, their redrawing and their print.
const boxes = [];

function palette() {
    const style = getComputedStyle(document.documentElement);
    const colour = (name) => style.getPropertyValue("--" + name).trim();
    return {
        ink: colour("ink"), quiet: colour("quiet"), grid: colour("rule"), paper: colour("paper"),
        accent: colour("accent"), alarm: colour("alarm"), veil: colour("veil"),
        looks: [0, 1, 2, 3].map((look) => colour("look" + look)),
        courses: [0, 1, 2, 3].map((course) => colour("course" + course)),
    };
}

// A chart in a box of its own; build(palette) gives the configuration.  It is drawn when its view
// is shown, and drawn again when the colours change.
function chartBox(label, build, extra) {
    const canvas = el("canvas", { role: "img", "aria-label": label });
    const node = el("div", { class: "chart" + (extra ? " " + extra : "") }, canvas);
    const box = { node, canvas, build, chart: null };
    boxes.push(box);
    node.chartBox = box;
    return node;
}
function draw(box) {
    if (box.chart !== null) box.chart.destroy();
    box.chart = new Chart(box.canvas, box.build(palette(), box));
}
function drawVisible(again) {
    for (let k = boxes.length - 1; k >= 0; --k) {
        const box = boxes[k];
        if (!box.node.isConnected) {
            if (box.chart !== null) box.chart.destroy();
            boxes.splice(k, 1);
        } else if (box.node.offsetParent !== null && (again || box.chart === null)) {
            draw(box);
        }
    }
}

function axis(colours, title, more) {
    return Object.assign({
        title: { display: true, text: title, color: colours.quiet },
        ticks: { color: colours.quiet }, grid: { color: colours.grid }, border: { color: colours.quiet },
    }, more);
}
function yearAxis(colours) {
    const whole = axis(colours, "year", { type: "linear", grid: { display: false } });
    whole.ticks.callback = (value) => String(value);
    whole.ticks.maxRotation = 0;
    const years = data.ahead.dates.map(yearOf);
    whole.min = years[0];
    whole.max = years[years.length - 1];
    const step = Math.max(1, Math.round((whole.max - whole.min) / 10));
    whole.afterBuildTicks = (scale) => {
        scale.ticks = [];
        for (let year = Math.ceil(whole.min / step) * step; year <= whole.max; year += step) scale.ticks.push({ value: year });
    };
    return whole;
}
function frame(colours, scales, legend) {
    return {
        animation: false, responsive: true, maintainAspectRatio: false, scales,
        plugins: {
            legend: { display: legend, labels: { color: colours.ink, usePointStyle: true, boxHeight: 7 } },
            tooltip: { backgroundColor: colours.ink, titleColor: colours.paper, bodyColor: colours.paper },
        },
    };
}
function line(label, xs, ys, colour, more) {
    return Object.assign({
        label, data: xs.map((x, k) => ({ x, y: ys[k] })), borderColor: colour, backgroundColor: colour,
        borderWidth: 2, pointRadius: 0, pointHitRadius: 8, pointStyle: "line",
    }, more);
}
// A criterion or a minimum: a straight dashed line over all years.
function level(label, value, colour) {
    const years = data.ahead.dates.map(yearOf);
    return line(label, [years[0], years[years.length - 1]], [value, value], colour, { borderDash: [6, 4], borderWidth: 1.5 });
}
function moneyTick(value) { return money(value); }

matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => drawVisible(true));

// Paper is light, and as wide as a page: charts are drawn again for it.
const beforePrint = [];
const afterPrint = [];
addEventListener("beforeprint", () => {
    document.documentElement.classList.add("printing");
    for (const step of beforePrint) step();
    drawVisible(true);
});
addEventListener("afterprint", () => {
    document.documentElement.classList.remove("printing");
    for (const step of afterPrint) step();
    drawVisible(true);
});
