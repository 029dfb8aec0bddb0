/* A program in C: judges the plan on standard input and prints the report for programs. */
#include <benchfeed/benchfeed.h>

#include <stdio.h>
#include <string.h>

static int fail(const char* what) {
    fprintf(stderr, "FAIL: %s\n", what);
    return 99;
}

/* Wrong calls are answered, not obeyed. */
static int wrong_calls(void) {
    char *json = NULL, *error = NULL;
    if (benchfeed_check("p", "x", 1, NULL, 0, NULL, &error) != benchfeed_unusable || !error) return fail("json is null");
    benchfeed_free(error);
    if (benchfeed_check(NULL, "x", 1, NULL, 0, &json, &error) != benchfeed_unusable || !error || json) return fail("no name");
    benchfeed_free(error);
    if (benchfeed_check("p", NULL, 1, NULL, 0, &json, NULL) != benchfeed_unusable || json) return fail("no text");
    if (benchfeed_check("p", NULL, 0, NULL, 0, &json, &error) != benchfeed_unreadable || !json || error) return fail("empty plan");
    benchfeed_free(json);
    benchfeed_free(NULL);
    return 0;
}

int main(int argc, char** argv) {
    static char text[1 << 20];
    char *json = NULL, *error = NULL;
    size_t length = fread(text, 1, sizeof text, stdin);
    enum benchfeed_result result;
    if (benchfeed_interface() != 1 || !strchr(benchfeed_version(), '.')) return fail("version");
    if (wrong_calls() != 0) return 99;
    result = benchfeed_check("standard input", text, length, (const char* const*)argv + 1, (size_t)(argc - 1), &json, &error);
    if (!json) return fail(error ? error : "no report");
    fputs(json, stdout);
    benchfeed_free(json);
    return (int)result;
}
