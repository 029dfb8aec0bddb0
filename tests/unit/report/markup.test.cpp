#include <benchfeed/report/markup.hpp>

#include <doctest/doctest.h>

using namespace benchfeed;

TEST_CASE("words of others cannot end a tag, an attribute or a line of markup") {
    CHECK(report::markup("<script>alert('x')</script>") == "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;");
    CHECK(report::markup("\" onload=\"x & y") == "&quot; onload=&quot;x &amp; y");
    CHECK(report::markup("a\x1b[31m\nb\x01") == "a?[31m?b?");
    CHECK(report::markup("\xE2\x80\xAE"
                         "abc") == "?abc");  // right-to-left override
    CHECK(report::markup("\xEF\xBF\xBE\xEF\xBF\xBF\xFF") == "???");
    CHECK(report::markup("S\xC3\xA4ge \xF0\x9F\xAA\x9A") == "S\xC3\xA4ge \xF0\x9F\xAA\x9A");
    CHECK(report::markup("").empty());
}

TEST_CASE("a text is cut at a character, and says so") {
    CHECK(report::shortened("saw", 4) == "saw");
    CHECK(report::shortened("router", 5) == "ro...");
    CHECK(report::shortened("\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4", 5) == "\xC3\xA4\xC3\xA4...");
}

TEST_CASE("coordinates are short and never in powers of ten") {
    CHECK(report::coordinate(12) == "12");
    CHECK(report::coordinate(0.1 + 0.2) == "0.3");
    CHECK(report::coordinate(-0.001) == "0");
    CHECK(report::coordinate(1e7 + 0.126) == "10000000.13");
    CHECK(report::coordinate(1e-9) == "0");
}
