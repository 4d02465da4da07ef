#include "report/html/page_parts.h"

namespace lagline {
namespace {

void write_course(PageJson& json, const PlannedCourse& course) {
    json.begin_object();
    json.member("name", course.name);
    json.member("meaning", course.meaning);
    json.member_flag("is_plan", course.is_plan);
    json.key("risk");
    json.begin_array();
    for (const double risk : course.risk_per_year) json.raw(number_cell(risk));
    json.end_array();
    json.end_object();
}

void write_window(PageJson& json, const PlannedWindow& window) {
    json.begin_object();
    json.member("name", window.name);
    json.member("start", to_string(window.start));
    json.member("end", to_string(window.end));
    json.member("spend", window.spend);
    if (window.budget) json.member("budget", *window.budget);
    json.end_object();
}

void write_action(PageJson& json, const PlannedAction& action) {
    json.begin_object();
    json.member("window", action.window);
    json.member("access_group", action.access_group);
    json.member("segment", action.segment);
    json.member("action", action.action);
    json.member("cost", action.cost);
    json.member_flag("compulsory", action.compulsory);
    json.member("reason", action.reason);
    json.end_object();
}

void write_point(PageJson& json, const PlannedBudget& point) {
    json.begin_object();
    json.member("budget", point.budget);
    json.member("loss", point.loss);
    json.end_object();
}

template <class Items, class Write>
void write_each(PageJson& json, std::string_view key, const Items& items, Write write) {
    json.key(key);
    json.begin_array();
    for (const auto& item : items) write(json, item);
    json.end_array();
}

}  // namespace

void write_page_plan(PageJson& json, const ReportPlan* plan) {
    json.key("plan");
    if (plan == nullptr) {
        json.raw("null");
        return;
    }
    json.begin_object();
    json.member("summary", plan->summary);
    write_each(json, "courses", plan->courses, write_course);
    write_each(json, "windows", plan->windows, write_window);
    write_each(json, "actions", plan->actions, write_action);
    write_each(json, "by_budget", plan->by_budget, write_point);
    json.member_texts("notes", plan->notes);
    json.end_object();
}

}  // namespace lagline
