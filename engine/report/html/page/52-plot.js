// The plot plan: each segment at its x and y, by band.
const pointStyles = ["circle", "rect", "triangle", "rectRot"];
const plotted = [];
for (let i = 0; i < count; ++i) if (segments.x(i) !== null && segments.y(i) !== null) plotted.push(i);

// Limits of both axes so that a metre is as long up as across.
function equalScale(box) {
    let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
    for (const i of plotted) {
        left = Math.min(left, segments.x(i));
        right = Math.max(right, segments.x(i));
        low = Math.min(low, segments.y(i));
        high = Math.max(high, segments.y(i));
    }
    const width = Math.max(100, box.node.clientWidth - 70);
    const height = Math.max(100, box.node.clientHeight - 90);
    const metres = 1.06 * Math.max((right - left) / width, (high - low) / height, 1e-6);
    const around = (from, to, pixels) => {
        const half = metres * pixels / 2;
        return { min: (from + to) / 2 - half, max: (from + to) / 2 + half };
    };
    return { x: around(left, right, width), y: around(low, high, height) };
}
function plotData(colours) {
    const shown = new Set(chosen);
    const radius = plotted.length > 3000 ? 2.5 : 4;
    const of = (rows, more) => Object.assign({ data: rows.map((i) => ({ x: segments.x(i), y: segments.y(i), i })) }, more);
    // The first is drawn on top: the highest band.
    const sets = bandsFromTop().map((band) => {
        const look = lookOf(band);
        return of(plotted.filter((i) => shown.has(i) && bandOf(i) === band), {
            label: spoken(data.bands[band].key), backgroundColor: colours.looks[look], borderColor: colours.paper, borderWidth: 0.5,
            pointStyle: pointStyles[look], pointRadius: radius + look * 0.5, pointHoverRadius: radius + 4,
        });
    });
    const others = plotted.filter((i) => !shown.has(i));
    if (others.length > 0) {
        sets.push(of(others, { label: "outside the filter", backgroundColor: colours.veil, borderWidth: 0, pointRadius: radius - 1.5, pointHoverRadius: radius }));
    }
    return sets;
}
function makePlot() {
    if (plotted.length === 0) return note("No segment has both x and y in the line list, so there is no plot plan.");
    const label = "Plot plan of " + plural(plotted.length, "segment") +
        ". Arrow keys go from segment to segment in order of rank, Enter opens one.";
    let at = -1;
    const node = chartBox(label, (colours, box) => {
        const limits = equalScale(box);
        const ticks = { x: axis(colours, "x [m]", limits.x), y: axis(colours, "y [m]", limits.y) };
        for (const each of [ticks.x, ticks.y]) {
            each.ticks.callback = (value) => grouped(String(Math.round(value)));
            each.ticks.includeBounds = false;
        }
        const options = frame(colours, ticks, true);
        options.interaction = { mode: "nearest", intersect: true };
        options.plugins.tooltip.callbacks = { label: (item) => plotWords(item.raw.i) };
        options.onClick = (_, hits) => { if (hits.length > 0) location.hash = segmentHref(pointIndex(box.chart, hits[0])); };
        options.onHover = (event, hits) => { box.canvas.classList.toggle("hand", hits.length > 0); };
        return { type: "scatter", data: { datasets: plotData(colours) }, options };
    }, "plot");
    const box = node.chartBox;
    box.canvas.setAttribute("tabindex", "0");
    box.canvas.id = "plot";
    box.canvas.addEventListener("keydown", (event) => {
        const rows = chosen.filter((i) => segments.x(i) !== null && segments.y(i) !== null);
        const steps = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };
        if (event.key in steps && rows.length > 0) {
            event.preventDefault();
            at = Math.min(rows.length - 1, Math.max(0, at + steps[event.key]));
            pointOut(box.chart, rows[at]);
        } else if (event.key === "Enter" && at >= 0 && at < rows.length) {
            location.hash = segmentHref(rows[at]);
        }
    });
    const spoke = el("p", { class: "unseen", role: "status" });
    function pointOut(chart, i) {
        for (let set = 0; set < chart.data.datasets.length; ++set) {
            const index = chart.data.datasets[set].data.findIndex((point) => point.i === i);
            if (index < 0) continue;
            const active = [{ datasetIndex: set, index }];
            chart.setActiveElements(active);
            chart.tooltip.setActiveElements(active, { x: 0, y: 0 });
            chart.update();
            spoke.textContent = plotWords(i);
        }
    }
    onChoice.push(() => {
        at = -1;
        if (box.chart === null) return;
        box.chart.data.datasets = plotData(palette());
        box.chart.update();
    });
    return el("div", null, node, spoke,
        plotted.length < count ? note(plural(count - plotted.length, "segment") + " without x and y are not drawn.") : null);
}
function pointIndex(chart, hit) { return chart.data.datasets[hit.datasetIndex].data[hit.index].i; }
function plotWords(i) {
    return segments.segment(i) + ", rank " + (i + 1) + ", " + spoken(data.bands[bandOf(i)].key) + ", " +
        money(numberOf("risk", i)) + " " + data.currency + "/y";
}
