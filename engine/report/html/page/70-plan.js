// The plan, where one has been made.
function spendChart() {
    return chartBox("Spend by window, table below", (colours) => {
        const windows = data.plan.windows;
        const sets = [{ label: "spend", data: windows.map((each) => each.spend), backgroundColor: colours.courses[0], pointStyle: "rect" }];
        if (windows.some((each) => each.budget !== undefined)) {
            sets.push({ label: "budget", data: windows.map((each) => each.budget ?? null), backgroundColor: colours.veil, borderColor: colours.quiet, borderWidth: 1, pointStyle: "rect" });
        }
        const scales = { x: axis(colours, "window", { grid: { display: false } }), y: axis(colours, data.currency, { beginAtZero: true }) };
        scales.y.ticks.callback = moneyTick;
        return { type: "bar", data: { labels: windows.map((each) => each.name), datasets: sets }, options: frame(colours, scales, true) };
    });
}
function budgetChart() {
    return chartBox("What each budget leaves of the risk", (colours) => {
        const points = data.plan.by_budget;
        const scales = { x: axis(colours, "budget, " + data.currency, { type: "linear" }), y: axis(colours, "expected loss, " + data.currency, { beginAtZero: true }) };
        scales.x.ticks.callback = moneyTick;
        scales.y.ticks.callback = moneyTick;
        return { type: "line", data: { datasets: [line("expected loss over the horizon", points.map((each) => each.budget), points.map((each) => each.loss), colours.accent, { pointRadius: 3, pointStyle: "circle" })] },
            options: frame(colours, scales, true) };
    });
}
function windowTable() {
    return simpleTable("Windows of the plan", [
        { head: "window", cell: (each) => each.name }, { head: "from", class: "date", cell: (each) => each.start }, { head: "to", class: "date", cell: (each) => each.end },
        { head: "spend, " + data.currency, number: true, cell: (each) => money(each.spend) },
        { head: "budget, " + data.currency, number: true, cell: (each) => (each.budget === undefined ? "no limit" : money(each.budget)) },
    ], data.plan.windows, "unseen");
}
function actionTables() {
    const groups = new Map();
    for (const action of data.plan.actions) {
        const key = JSON.stringify([action.window, action.access_group]);
        if (!groups.has(key)) groups.set(key, []);
        groups.get(key).push(action);
    }
    const columns = [
        { head: "segment", cell: (action) => segmentByName(action.segment) }, { head: "action", cell: (action) => action.action },
        { head: "cost, " + data.currency, number: true, cell: (action) => money(action.cost) },
        { head: "compulsory", cell: (action) => (action.compulsory ? "yes" : "") }, { head: "why", class: "words", cell: (action) => action.reason },
    ];
    return [...groups.values()].map((actions) => {
        const { window, access_group: group } = actions[0];
        const cost = actions.reduce((sum, action) => sum + action.cost, 0);
        return details(window + (group === "" ? "" : ", access group " + group) + ": " + plural(actions.length, "action") + ", " + money(cost) + " " + data.currency,
            simpleTable("Actions", columns, actions, "unseen"));
    });
}
function makePlan(view) {
    if (data.plan === null) {
        view.append(el("p", { text: "No plan has been made for this report." }),
            note("A plan would show here: what is done to which segment in which window, what it costs, the budget it fits, and what is left of the risk."));
        return;
    }
    const courses = data.plan.courses;
    view.append(el("p", { text: data.plan.summary }),
        card("Risk over the years", riskChart(), el("dl", null, courses.map((course) => fact(course.name, course.meaning))), yearTable()),
        el("div", { class: "pair" }, card("Spend by window", spendChart(), windowTable()),
            data.plan.by_budget.length === 0 ? null : card("What a budget buys", budgetChart())),
        card("What is done, by window and access group", actionTables()));
    if (data.plan.notes.length > 0) view.append(card("What the plan leaves open", el("ul", null, data.plan.notes.map((text) => el("li", { text })))));
    view.append(cautionBox());
}
