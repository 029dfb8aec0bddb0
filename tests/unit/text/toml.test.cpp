#include <doctest/doctest.h>

#include <benchfeed/text/toml.hpp>

using namespace benchfeed;
using text::Document;
using text::parse_toml;

TEST_CASE("keys and values have places, and keep the order of the file") {
    const Document document(
        "a.toml",
        "z = 1\n[box.b]\nname = \"n\\u00e4he\" # x\nlist = [1, \"two\"]\n[box.a]\nin = { y = 2, x = 1.5 }\n");
    const auto parsed = parse_toml(document);
    REQUIRE(parsed.problems.empty());
    CHECK(parsed.root.entries[0].key == "z");
    const auto* boxes = parsed.root.find("box")->node.as<text::Table>();
    REQUIRE(boxes != nullptr);
    CHECK(boxes->entries[0].key == "b");
    CHECK(boxes->entries[1].key == "a");
    const auto& b = *boxes->entries[0].node.as<text::Table>();
    CHECK(b.find("name")->node.span == Span{3, 8, 3, 19});
    CHECK(b.find("name")->key_span == Span{3, 1, 3, 5});
    CHECK(*b.find("name")->node.as<std::string>() == "nähe");
    CHECK(document.slice(b.find("list")->node.span) == "[1, \"two\"]");
    CHECK(boxes->entries[1].node.as<text::Table>()->find("in")->node.as<text::Table>()->entries[0].key ==
          "y");
}

TEST_CASE("every mistake of a broken text is told in one run, each at its line") {
    const Document document("b.toml",
                            "a = 1\n[one]\nx = = 2\n[two]\ny = 3\n[three]\nz = \"open\n[four]\nw = 4\n");
    const auto parsed = parse_toml(document);
    REQUIRE(parsed.problems.size() == 2);
    CHECK(parsed.problems[0].labels[0].span.line == 3);
    CHECK(parsed.problems[1].labels[0].span.line == 7);
    CHECK(parsed.root.find("four") != nullptr);  // what can be read is read
}

TEST_CASE("a key or table written twice is told with both places") {
    const Document keys("c.toml", "[switch.saw]\npoles = 1\nrating = \"16 A\"\npoles = 2\n");
    const auto twice = parse_toml(keys);
    REQUIRE(twice.problems.size() == 1);
    REQUIRE(twice.problems[0].labels.size() == 2);
    CHECK(twice.problems[0].labels[0].span.line == 4);
    CHECK(twice.problems[0].labels[1].span.line == 2);
    const Document tables("d.toml", "[box.a]\nx = 1\n[box.b]\n[box.a]\ny = 2\n");
    const auto again = parse_toml(tables);
    REQUIRE(again.problems.size() == 1);
    CHECK(again.problems[0].labels.size() == 2);
}

TEST_CASE("texts on which the parser itself gives up are mistakes like any other") {
    for (const char* text : {"[!]", "[/a]", "[", "a = [ }", "a = \xe9", "[a]\n[!]\n[b]", "ä = 1", "a = 'x",
                             "\"", "[[", "[[a]", "a.b.", "a = {", "a = 1979-13-45", "\x01", "a = 0b2"}) {
        CAPTURE(text);
        CHECK_FALSE(parse_toml(Document("e.toml", text)).problems.empty());
    }
    CHECK_FALSE(parse_toml(Document("f.toml", std::string(100'000, '[') + "\n")).problems.empty());
    std::string dotted = "a";
    for (int i = 0; i < 200'000; ++i) dotted += ".a";
    CHECK_FALSE(parse_toml(Document("g.toml", dotted + " = 1\n")).problems.empty());
    std::string nested = "a = ";
    for (int i = 0; i < 2000; ++i) nested += "[\n";
    CHECK_FALSE(parse_toml(Document("h.toml", nested)).problems.empty());
}

TEST_CASE("limits are enforced before anything is parsed") {
    CHECK_FALSE(parse_toml(Document("i.toml", "a = \"" + std::string(600, 'x') + "\"\n")).problems.empty());
    CHECK_FALSE(parse_toml(Document("j.toml", "# " + std::string(5000, 'x') + "\n")).problems.empty());
    CHECK_FALSE(parse_toml(Document("k.toml", "a = \"\"\"x\ny\"\"\"\n")).problems.empty());
    CHECK(parse_toml(Document("l.toml", "a = \"" + std::string(500, 'x') + "\"\n")).problems.empty());
    CHECK(parse_toml(Document("m.toml", "")).problems.empty());
}

TEST_CASE("columns count characters, and slices are what stands there") {
    const Document document("n.toml", "ä = \"öö\" # ü\r\nb = 2");
    CHECK(document.line(1) == "ä = \"öö\" # ü");
    CHECK(document.slice(Span{1, 5, 1, 9}) == "\"öö\"");
    CHECK(document.line(3).empty());
    CHECK(document.line_count() == 2);
}
