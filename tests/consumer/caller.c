/* A program in C: judges the plan on standard input, with the values of its arguments, and prints the report for programs.
 * What it hands over it scribbles on as soon as the call is back: a report that still looks at it is another one. */
#include <benchfeed/benchfeed.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int fail(const char* what) {
    fprintf(stderr, "FAIL: %s\n", what);
    return 99;
}

/* Wrong calls are answered, not obeyed. */
static int wrong_calls(void) {
    const char* const none[] = {"box.b.cable.length=1 m", NULL};
    char *json = NULL, *error = NULL;
    if (benchfeed_check("p", "x", 1, NULL, 0, NULL, &error) != benchfeed_unusable || !error) return fail("json is null");
    benchfeed_free(error);
    if (benchfeed_check(NULL, "x", 1, NULL, 0, &json, &error) != benchfeed_unusable || !error || json) return fail("no name");
    benchfeed_free(error);
    if (benchfeed_check("p", NULL, 1, NULL, 0, &json, NULL) != benchfeed_unusable || json) return fail("no text");
    if (benchfeed_check("p", "x", 1, NULL, 1, &json, &error) != benchfeed_unusable || !error || json) return fail("sets are null");
    benchfeed_free(error);
    if (benchfeed_check("p", "x", 1, none, 2, &json, &error) != benchfeed_unusable || !error || json) return fail("one set is null");
    benchfeed_free(error);
    if (benchfeed_check("p", NULL, 0, NULL, 0, &json, &error) != benchfeed_unreadable || !json || error) return fail("empty plan");
    benchfeed_free(json);
    benchfeed_free(NULL);
    return 0;
}

/* Bytes of their own that no zero ends: what follows them would make another plan of them. */
static char* copy_of(const char* text, size_t length) {
    static const char beyond[] = "\n[load.beyond-the-end]\n";
    char* copy = malloc(length + sizeof beyond);
    if (!copy) exit(fail("no memory"));
    memcpy(copy, text, length);
    memcpy(copy + length, beyond, sizeof beyond);
    return copy;
}

/* Volatile: a compiler may leave out what nobody reads before it is freed. */
static void scribble_on(char* text, size_t length) {
    volatile char* at = text;
    size_t i;
    for (i = 0; i < length; ++i) at[i] = '#';
    free(text);
}

/* One call whose arguments are gone before the report is read. */
static char* report_of(const char* text, size_t length, int count, char** values, enum benchfeed_result* result) {
    char *json = NULL, *error = NULL, *plan = copy_of(text, length), *name = copy_of("standard input", 15);
    char** sets = count > 0 ? malloc((size_t)count * sizeof *sets) : NULL;
    int i;
    for (i = 0; i < count; ++i) sets[i] = copy_of(values[i], strlen(values[i]) + 1);
    *result = benchfeed_check(name, plan, length, (const char* const*)sets, (size_t)count, &json, &error);
    for (i = 0; i < count; ++i) scribble_on(sets[i], strlen(sets[i]) + 1);
    free(sets);
    scribble_on(name, 15);
    scribble_on(plan, length);
    if (!json) fail(error ? error : "no report");
    benchfeed_free(error);
    return json;
}

int main(int argc, char** argv) {
    static char text[1 << 20];
    size_t length = fread(text, 1, sizeof text, stdin);
    enum benchfeed_result result, other, again;
    char *json, *between, *same;
    if (benchfeed_interface() != 1 || !strchr(benchfeed_version(), '.')) return fail("version");
    if (wrong_calls() != 0) return 99;
    json = report_of(text, length, argc - 1, argv + 1, &result);
    between = report_of("format = 2\n", 11, 0, NULL, &other);
    same = report_of(text, length, argc - 1, argv + 1, &again);
    if (!json || !between || !same) return 99;
    if (other != benchfeed_unreadable) return fail("a plan of another format");
    if (again != result || strcmp(json, same) != 0) return fail("the same call gives another report after another one");
    fputs(json, stdout);
    benchfeed_free(json);
    benchfeed_free(between);
    benchfeed_free(same);
    return (int)result;
}
