#!/usr/bin/env python3
"""Reads what GoogleTest wrote with --gtest_output=json: gtest_results.py FILE

Prints one line a test that ran: "passed Suite.Name" or "failed Suite.Name", sorted.
"""
import json
import sys


def main(file):
    with open(file, encoding="utf-8") as text:
        suites = json.load(text)["testsuites"]
    ran = [
        f"{'failed' if test.get('failures') else 'passed'} {suite['name']}.{test['name']}"
        for suite in suites
        for test in suite["testsuite"]
        if test["result"] == "COMPLETED"
    ]
    print("\n".join(sorted(ran)))


main(sys.argv[1])
