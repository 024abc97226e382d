#!/usr/bin/env python3
"""Reads what GoogleTest wrote with --gtest_output=json: gtest_results.py FILE...

Prints one line a test: "passed Suite.Name", "failed Suite.Name", or "skipped Suite.Name" for one that found what it
needs not at hand; sorted. Tests that were filtered out are left out.
"""
import json
import sys


def verdict(test):
    if test["result"] == "SKIPPED":
        return "skipped"
    return "failed" if test.get("failures") else "passed"


def main(files):
    ran = []
    for file in files:
        with open(file, encoding="utf-8") as text:
            suites = json.load(text)["testsuites"]
        ran += [
            f"{verdict(test)} {suite['name']}.{test['name']}"
            for suite in suites
            for test in suite["testsuite"]
            if test["result"] in ("COMPLETED", "SKIPPED")
        ]
    print("\n".join(sorted(ran)))


main(sys.argv[1:])
