#!/usr/bin/env python3
"""Runs the program tawny as a shell does: tests/shell_command.py PROGRAM

What GoogleTest cannot see of it: real files, the input stream, a full disk, a reader that goes away. Prints one line a
test, "passed NAME" or "failed NAME", and what went wrong.
"""
import json
import os
import re
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.path.abspath(sys.argv[1])
ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))


def run(*arguments, **options):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, text=True, timeout=60, **options)


def readme():
    with open(os.path.join(ROOT, "README.md"), encoding="utf-8") as text:
        return text.read()


class ShellCommand(unittest.TestCase):
    def test_every_example_of_the_listing_runs_in_a_shell(self):
        examples = re.findall(r"^\s+\$ tawny (.*)$", run("reckon").stdout, re.M)
        self.assertGreater(len(examples), 20)
        for example in examples:
            ran = subprocess.run(f"'{PROGRAM}' {example}", shell=True, capture_output=True, text=True, timeout=60)
            self.assertEqual(ran.returncode, 0, example + ran.stderr)
            answer = json.loads(ran.stdout)
            self.assertEqual(answer["reckoning"], example.split()[1])
            self.assertTrue(answer["results"] and answer["source"])

    def test_the_examples_of_the_readme_print_what_it_says(self):
        shown = re.findall(r"^\$ tawny (reckon .*)\n((?:.*\n)*?)```", readme(), re.M)
        self.assertGreater(len(shown), 0)
        for command, printed in shown:
            ran = subprocess.run(f"'{PROGRAM}' {command}", shell=True, capture_output=True, text=True, timeout=60)
            self.assertEqual(ran.stdout, printed)

    def test_bad_input_writes_one_line_to_the_error_stream_only(self):
        ran = run("reckon", "oxygen-saturation", "temperature_c=60", "salinity=0")
        self.assertEqual((ran.returncode, ran.stdout, ran.stderr.count("\n")), (2, "", 1))

    def test_a_file_that_is_not_there_is_said(self):
        for command in ("assess", "check", "merge"):
            ran = run(command, "no such file")
            self.assertEqual((ran.returncode, ran.stdout), (2, ""))
            self.assertIn("no such file", ran.stderr)

    def test_a_folder_is_no_logbook(self):
        with tempfile.TemporaryDirectory() as folder:
            ran = run("check", folder)
            self.assertEqual((ran.returncode, ran.stdout), (2, ""))

    def test_a_full_disk_is_no_success(self):
        with open("/dev/full", "w", encoding="utf-8") as full:
            ran = subprocess.run([PROGRAM, "reckon"], stdout=full, stderr=subprocess.PIPE, text=True, timeout=60)
        self.assertEqual(ran.returncode, 2)
        self.assertIn("could not be written", ran.stderr)

    def test_the_input_stream_is_a_file_too(self):
        ran = run("check", "-", input="no logbook\n")
        self.assertEqual((ran.returncode, ran.stdout), (2, ""))

    def test_a_locale_changes_no_number(self):
        plain = run("reckon", "light", "secchi_cm=52,5", env={"LC_ALL": "C"})
        other = run("reckon", "light", "secchi_cm=52,5", env={"LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"})
        self.assertEqual(plain.returncode, 0, plain.stderr)
        self.assertEqual(plain.stdout, other.stdout)


class OneLine(unittest.TextTestResult):
    def addSuccess(self, test):
        print("passed", test._testMethodName)

    def addFailure(self, test, error):
        print("failed", test._testMethodName)
        super().addFailure(test, error)

    def addError(self, test, error):
        print("failed", test._testMethodName)
        super().addError(test, error)


suite = unittest.defaultTestLoader.loadTestsFromTestCase(ShellCommand)
result = unittest.TextTestRunner(stream=sys.stdout, resultclass=OneLine, verbosity=0).run(suite)
sys.exit(0 if result.wasSuccessful() else 1)
