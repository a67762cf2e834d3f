"""Chooses the functions that neither the page's start nor a line of a new slip needs, for wasm-split to put into a second module.

    choose_late_functions.py MODULE.wat OUT HEADER...    all headers of lines; those that a new slip has say `.everyday = true`

MODULE.wat is what wasm-dis makes of a module that still has the names of its functions. OUT gets a name
a line.
"""
import collections
import re
import sys

module, out, *headers = sys.argv[1:]
everyday = set()
for header in headers:
    domain = header.split("/")[-2]
    with open(header, encoding="utf-8") as file:
        text = file.read()
    if ".everyday = true" in text:
        everyday |= {f"{domain}::{name}" for name in re.findall(r"^WETSLEEVE_LINE\((\w+)\)", text, re.M)}
if not everyday:
    sys.exit("choose_late_functions.py: none of these headers holds a line of a new slip.")

calls = {}
roots = set()
slots = collections.Counter()
name = None
with open(module, encoding="utf-8") as file:
    module = file.readlines()
for text in module:
    if text.startswith(" (func "):
        name = text.split()[1].rstrip(")")
        calls[name] = set()
    elif text.startswith(" (elem "):
        slots.update(word.rstrip(")") for word in text.split() if word.startswith("$"))
        name = None
    elif text.startswith(" (export ") and " (func " in text:
        roots.add(text.split("(func ")[1].strip(" )\n"))
    elif text.startswith(" (start "):
        roots.add(text.split()[1].rstrip(")"))
    elif name:
        calls[name].update(re.findall(r"\((?:return_call|call|ref\.func) (\$[^\s)]+)", text))


# A line's functions are called by way of the table alone, and so are the calls of the page that come with
# them. Where the optimiser has found two that are the same, one stands in two places of the table, under the
# name of either: that one stays.
def comes_later(function):
    named = function.replace("\\20", " ")
    line = re.search(r"::detail::\w+_erased<wetsleeve::(\w+::\w+)", named)
    return ("wetsleeve::page::late::" in named or (line is not None and line[1] not in everyday)) and slots[function] == 1


roots |= {function for function in slots if not comes_later(function)}
needed = set()
rest = list(roots)
while rest:
    function = rest.pop()
    if function not in needed:
        needed.add(function)
        rest += calls.get(function, ())
later = [function[1:] for function in calls if function not in needed]
if not later:
    sys.exit("choose_late_functions.py: found no line's functions; the module must have its names (--profiling-funcs).")
with open(out, "w", encoding="utf-8") as file:
    file.writelines(f"{function}\n" for function in later)
