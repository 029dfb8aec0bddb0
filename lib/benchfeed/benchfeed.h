#pragma once
/** @file
 * benchfeed for programs in other languages: the text of a plan in, the JSON of `benchfeed check --format
 * json` out.
 *
 * Promise: within one number of benchfeed_interface() nothing here changes its meaning, its arguments or its
 * layout; functions may be added. What the JSON holds is described by data/schemas/output.schema.json, whose
 * keys are added and never renamed.
 *
 * No function throws, prints, exits, reads a file or keeps anything between two calls; any number of threads
 * may call at once. What benchfeed says is advice: local codes and a licensed electrician decide.
 */
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** How a call ended. The first three are the exit codes of the program. */
enum benchfeed_result {
    /** No fail, and no essential rule without an answer. */
    benchfeed_good = 0,
    /** A fail, or an essential rule that could not be judged: the JSON says which. */
    benchfeed_found = 1,
    /** The text is no plan; "errors" in the JSON has every mistake with its line and column. */
    benchfeed_unreadable = 2,
    /** The call itself is wrong, or memory ran out: there is no JSON, and `error` says why. */
    benchfeed_unusable = 3
};

/** The number of this interface: 1. A program asks once whether it is the one that it was written for. */
int benchfeed_interface(void);

/** Version of the library, as "0.1.0". Not to be freed. */
const char* benchfeed_version(void);

/** Judges one plan.
 *
 * @param name   what the plan is called in the JSON, such as the name of its file; UTF-8
 * @param text   the plan, TOML; UTF-8, `length` bytes, which need not end with a zero
 * @param length bytes of `text`
 * @param sets   values that replace those of the plan, each "box.junction.cable.length=3 m"; may be null when
 * there are none
 * @param count  how many `sets` there are
 * @param json   takes the report, which ends with a zero and is freed by benchfeed_free(); null after
 * benchfeed_unusable
 * @param error  takes what is wrong with the call, freed likewise; null unless benchfeed_unusable. May itself
 * be null.
 */
enum benchfeed_result benchfeed_check(const char* name, const char* text, size_t length,
                                      const char* const* sets, size_t count, char** json, char** error);

/** Frees a text that benchfeed_check() gave. Null is allowed. */
void benchfeed_free(char* text);

#ifdef __cplusplus
}
#endif
