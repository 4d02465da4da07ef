/* The C library's erfc() for SQLite, whose mathematical functions lack it. */
#include <math.h>
#include <sqlite3ext.h>
SQLITE_EXTENSION_INIT1

static void erfc_of(sqlite3_context* context, int count, sqlite3_value** values) {
    (void)count;
    sqlite3_result_double(context, erfc(sqlite3_value_double(values[0])));
}

int sqlite3_erfc_init(sqlite3* db, char** error, const sqlite3_api_routines* api) {
    (void)error;
    SQLITE_EXTENSION_INIT2(api);
    return sqlite3_create_function(db, "erfc", 1, SQLITE_UTF8 | SQLITE_DETERMINISTIC, 0, erfc_of, 0, 0);
}
