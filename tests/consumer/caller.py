"""A plan judged from Python: caller.py LIBRARY PLAN [PATH=VALUE...]. Prints the verdict and its first line."""
import ctypes
import json
import pathlib
import sys


class Benchfeed:
    """libbenchfeed through its C interface, benchfeed/benchfeed.h."""

    def __init__(self, library):
        self.calls = ctypes.CDLL(library)
        if self.calls.benchfeed_interface() != 1:
            raise RuntimeError("this program was written for another interface")
        self.calls.benchfeed_free.argtypes = [ctypes.c_void_p]
        self.calls.benchfeed_free.restype = None
        self.calls.benchfeed_check.argtypes = [ctypes.c_char_p, ctypes.c_char_p, ctypes.c_size_t, ctypes.POINTER(ctypes.c_char_p),
                                               ctypes.c_size_t, ctypes.POINTER(ctypes.c_void_p), ctypes.POINTER(ctypes.c_void_p)]

    def taken(self, pointer):
        text = ctypes.string_at(pointer.value).decode("utf-8") if pointer.value else None
        self.calls.benchfeed_free(pointer)
        return text

    def check(self, name, text, sets=()):
        """The exit code that the program would have, and its report."""
        report, error = ctypes.c_void_p(), ctypes.c_void_p()
        values = (ctypes.c_char_p * len(sets))(*(value.encode("utf-8") for value in sets))
        plan = text.encode("utf-8")
        result = self.calls.benchfeed_check(name.encode("utf-8"), plan, len(plan), values, len(sets), ctypes.byref(report), ctypes.byref(error))
        why = self.taken(error)
        if why is not None:
            raise ValueError(why)
        return result, json.loads(self.taken(report))


library, path, *changes = sys.argv[1:]
code, found = Benchfeed(library).check(path, pathlib.Path(path).read_text(encoding="utf-8"), changes)
for plan in found["plans"]:
    print(f"{plan['verdict']}: {plan['headline']}")
for fault in found["errors"]:  # of the text at a line, of a value beside it at none
    print(f"{fault['place']['line'] if fault['place'] else fault['field']}: {fault['message']}")
sys.exit(code)
