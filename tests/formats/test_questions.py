"""What is to be looked up: over every plan the questions are those that keep its outcomes open, and pages can be made of them."""
import unittest

from judges import GOOD, output_of, run

SHORT = "tests/plans/short/three-tools.toml"


class Questions(unittest.TestCase):
    def test_they_decide_what_is_open_and_nothing_else(self):
        judged = {plan["path"]: plan for plan in output_of("check", "--format", "json", "--full", *GOOD)["plans"]}
        for path in GOOD[::7]:
            told = output_of("questions", path, "--format", "json", code=0)
            key = lambda o: (o["rule"], o["at"], o["part"], o["set"])
            open_ = {key(o): o for o in judged[path]["outcomes"] if o["outcome"] == "cannot judge" and o["accepted"] is None and o["questions"]}
            decided = {key(o): o for q in told["questions"] for o in q["decides"]}
            self.assertEqual(set(open_), set(decided), path)
            for name, outcome in decided.items():
                self.assertEqual(open_[name]["counts_as_fail"], outcome["counts_as_fail"], (path, name))
            ranks = [(q["settles"] == 0, not q["decides"]) for q in told["questions"]]
            self.assertEqual(sorted(ranks), ranks, path)
            for q in told["questions"]:
                self.assertEqual(q["settles"], sum(o["counts_as_fail"] for o in q["decides"]), path)

    def test_an_answer_settles_what_it_says(self):
        first = output_of("questions", SHORT, "--format", "json", code=0)["questions"][0]
        self.assertIn("load.planer.latched", first["paths"])
        answers = [word for path in first["paths"] for word in ("--set", path + "=false")]
        plan = output_of("check", SHORT, "--format", "json", "--full", *answers)["plans"][0]
        left = {(o["rule"], o["at"]) for o in plan["outcomes"] if o["outcome"] == "cannot judge"}
        self.assertFalse(left & {(o["rule"], o["at"]) for o in first["decides"]})

    def test_text_has_each_question_and_a_blank(self):
        told = output_of("questions", SHORT, "--format", "json", code=0)["questions"]
        text = run("questions", SHORT).stdout.decode()
        self.assertEqual(len(told), text.count("______"))
        self.assertLess(text.index("At the panel"), text.index("Tools and their plates"))

    def test_a_page_and_a_pdf(self):
        page = run("questions", SHORT, "--format", "html").stdout.decode()
        self.assertIn("what to look up", page)
        self.assertEqual(page.count("<tr>"), page.count("</tr>"))
        pdf = run("questions", SHORT, "--format", "pdf", "--paper", "A5")
        if pdf.returncode == 0:
            self.assertTrue(pdf.stdout.startswith(b"%PDF-"))
        else:
            self.assertIn("PDF", pdf.stderr.decode())


if __name__ == "__main__":
    unittest.main()
