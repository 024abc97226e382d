#!/usr/bin/env python3
"""Runs the program tawny as a shell does: tests/shell_command.py PROGRAM

What GoogleTest cannot see of it: real files, the input stream, a full disk, a reader that goes away. Prints one line a
test, "passed NAME" or "failed NAME", and what went wrong.
"""
import csv
import hashlib
import io
import json
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest
import xml.etree.ElementTree

PROGRAM = os.path.abspath(sys.argv[1])
ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))


def run(*arguments, **options):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, text=True, timeout=60, **options)


def readme():
    with open(os.path.join(ROOT, "README.md"), encoding="utf-8") as text:
        return text.read()


def entries(device, count):
    """A logbook of one device, as the app writes it."""
    lines, previous = [], "0" * 64
    for number in range(1, count + 1):
        body = (
            f'{{"v":1,"farm":"north-farm","device":"{device}","number":{number},"lamport":{number},'
            '"observed":"2026-11-25T06:12:00Z","recorded":"2026-11-25T06:12:00Z","who":"Technician","pond":"p1",'
            f'"kind":"level_reading","values":{{"level_cm":{number}.0}},"previous":"{previous}"'
        )
        previous = hashlib.sha256(body.encode()).hexdigest()
        lines.append(f'{body},"hash":"{previous}"}}\n')
    return "".join(lines)


def write(path, text):
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)


def read(path):
    with open(path, encoding="utf-8") as file:
        return file.read()


def segments(depot):
    """Every file of a depot by its name; what a killed program left half written has another ending."""
    found = {}
    for folder, _, names in os.walk(depot):
        for name in names:
            if name.endswith(".jsonl"):
                path = os.path.join(folder, name)
                found[os.path.relpath(path, depot)] = read(path)
    return found


def no_file_beyond(limit_bytes):
    def before():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit_bytes, limit_bytes))

    return before


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

    def test_the_table_reads_as_a_table_in_another_program(self):
        notes = [
            "plain", "a, b", 'he said "now"', '"', '""', ",", "two\nlines", "two\r\nlines", "\r", "\n", " blank ", ";",
            "'", "''", "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", '=cmd|"/c x"!A1', 'Nước trong, không có mùi; tôm "khỏe"',
            "Água: à noite, 0,5 m", "\u202etrap", "\U0001f990", "\ufeffmark", "x" * 5000, "\u2028line\u2029",
        ]
        levels = [0, -5, 32.5, 0.1, 1e21, 100, -0.25]
        values = [("note", {"text": note}) for note in notes]
        values += [("level_reading", {"level_cm": level}) for level in levels]
        lines, previous = [], "0" * 64
        for number, (kind, value) in enumerate(values, 1):
            head = {"v": 1, "farm": "north-farm", "device": "a1", "number": number, "lamport": number,
                    "observed": "2026-11-25T06:12:00Z", "recorded": "2026-11-25T06:12:00Z", "who": 'Ngọc, "Bé"',
                    "kind": kind, "values": value, "previous": previous}
            body = json.dumps(head, ensure_ascii=number % 2 == 0, separators=(",", ":"))[:-1]
            previous = hashlib.sha256(body.encode()).hexdigest()
            lines.append(f'{body},"hash":"{previous}"}}\n')
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "farm.jsonl")
            write(path, "".join(lines))
            ran = subprocess.run([PROGRAM, "export", "--csv", path], capture_output=True, timeout=60)
            self.assertEqual((ran.returncode, ran.stderr), (0, b""))
            self.assertEqual(run("export", "--jsonl", path).stdout, "".join(lines))
        self.assertTrue(ran.stdout.startswith(b"\xef\xbb\xbf") and ran.stdout.endswith(b"\r\n"))
        table = list(csv.reader(io.StringIO(ran.stdout.decode("utf-8-sig"), newline=""), strict=True))
        self.assertEqual(len(table), 1 + len(values))
        self.assertEqual({len(row) for row in table}, {len(table[0])})
        self.assertEqual(len(set(table[0])), len(table[0]))
        rows = [dict(zip(table[0], row)) for row in table[1:]]
        for note, row in zip(notes, rows):
            cell = row["text"]
            self.assertNotIn(cell[:1], "=+-@\t\r\n" if cell else "\0")
            self.assertEqual(cell[1:] if cell.startswith("'") else cell, note)
            self.assertEqual(row["who"], 'Ngọc, "Bé"')
        for level, row in zip(levels, rows[len(notes):]):
            self.assertEqual(float(row["level_cm"]), level)
        # A number is bare in the file, so that no program takes it for text.
        self.assertIn(b",-5,", ran.stdout)

    def test_a_record_reads_as_a_page_in_another_program(self):
        name = 'Ao "3" <b>&amp; \u202e\u0643'
        told = [
            ("farm_setup", "", {"name": name, "latitude_deg": 10.1, "longitude_deg": 106.3, "utc_offset_min": 420}),
            ("pond_setup", "p1", {"name": name, "walk_order": 1, "build": "earthen", "nominal_area_ha": 1, "inlets": [],
                                  "bottom_length_m": 100, "bottom_width_m": 80, "depth_m": 1.2, "bank_slope": 2}),
            ("cycle_start", "p1", {"cycle": name}),
            ("level_reading", "p1", {"level_cm": 32}),
            ("note", "p1", {"text": name}),
        ]
        lines, previous = [], "0" * 64
        for number, (kind, pond, values) in enumerate(told, 1):
            head = {"v": 1, "farm": "north-farm", "device": "a1", "number": number, "lamport": number,
                    "observed": f"2026-11-25T06:1{number}:00Z", "recorded": f"2026-11-25T06:1{number}:00Z", "who": name,
                    "kind": kind, "values": values, "previous": previous}
            if pond:
                head["pond"] = pond
            body = json.dumps(head, ensure_ascii=False, separators=(",", ":"))[:-1]
            previous = hashlib.sha256(body.encode()).hexdigest()
            lines.append(f'{body},"hash":"{previous}"}}\n')
        with tempfile.TemporaryDirectory() as folder:
            log, page, table = (os.path.join(folder, file) for file in ("farm.jsonl", "record.html", "record.csv"))
            write(log, "".join(lines))
            order = ["report", log, "--pond", "p1", "--at", "2026-11-26T06:00:00Z"]
            ran = run(*order, "-o", page, "--csv", table)
            self.assertEqual((ran.returncode, ran.stdout, ran.stderr), (0, "", ""))
            self.assertEqual(run(*order).stdout, read(page))
            rows = list(csv.reader(io.StringIO(read(table).lstrip("\ufeff"), newline=""), strict=True))
            self.assertEqual(len(rows), 1 + 3)
            root = xml.etree.ElementTree.fromstring(read(page).split("\n", 1)[1])
            for arguments, code in (((*order, "-o", folder), 2), ((*order[:3], "p2"), 2), ((*order, "--csv"), 2)):
                ran = run(*arguments)
                self.assertEqual((ran.returncode, ran.stdout, ran.stderr.count("\n")), (code, "", 1), arguments)
        space = "{http://www.w3.org/1999/xhtml}"
        main = root.find(f"{space}body/{space}main")
        self.assertEqual(main.get("id"), "report")
        shown = name.replace("\u202e", "[U+202E]")
        self.assertEqual("".join(main.find(f"{space}header/{space}h1").itertext()), f"{shown} \u00b7 {shown}")
        self.assertIn(previous, "".join(main.itertext()))

    def test_a_locale_changes_no_number(self):
        plain = run("reckon", "light", "secchi_cm=52,5", env={"LC_ALL": "C"})
        other = run("reckon", "light", "secchi_cm=52,5", env={"LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"})
        self.assertEqual(plain.returncode, 0, plain.stderr)
        self.assertEqual(plain.stdout, other.stdout)

    def assert_whole(self, depot):
        for name, text in segments(depot).items():
            self.assertEqual(hashlib.sha256(text.encode()).hexdigest()[:16], name[-22:-6], name)

    def test_sync_brings_files_and_folder_up_to_each_other(self):
        with tempfile.TemporaryDirectory() as at:
            depot, a, b = (os.path.join(at, name) for name in ("depot", "a.jsonl", "b.jsonl"))
            os.mkdir(depot)
            write(a, entries("a", 1250))
            write(b, entries("b", 30))
            for file, name in ((a, "anna"), (b, "ben"), (a, "anna")):
                ran = run("sync", depot, file, "--as", name)
                self.assertEqual((ran.returncode, ran.stderr), (0, ""))
            self.assertEqual(read(a), entries("a", 1250) + entries("b", 30))
            self.assertEqual(read(a), read(b))
            self.assert_whole(depot)
            before = segments(depot)
            answer = json.loads(run("sync", depot, a, "--as", "anna").stdout)
            self.assertEqual((answer["entries"], answer["entries_in"], answer["entries_out"]), (1280, 0, 0))
            self.assertEqual(segments(depot), before)
            self.assertEqual(sorted(os.listdir(at)), ["a.jsonl", "b.jsonl", "depot"])

    def test_sync_into_a_folder_that_is_not_there_makes_none(self):
        with tempfile.TemporaryDirectory() as at:
            write(os.path.join(at, "a.jsonl"), entries("a", 3))
            ran = run("sync", os.path.join(at, "stick"), os.path.join(at, "a.jsonl"))
            self.assertEqual((ran.returncode, ran.stdout, ran.stderr.count("\n")), (2, "", 1))
            self.assertIn("stick: not there", ran.stderr)
            self.assertEqual(os.listdir(at), ["a.jsonl"])

    def test_sync_killed_at_any_moment_and_run_again_ends_with_the_same_bytes(self):
        chance = random.Random(7)
        with tempfile.TemporaryDirectory() as at:
            filled = os.path.join(at, "filled")
            os.mkdir(filled)
            write(os.path.join(at, "b.jsonl"), entries("b", 2300))
            run("sync", filled, os.path.join(at, "b.jsonl"), "--as", "ben")
            begun = time.monotonic()
            for turn in range(26):
                depot, file = os.path.join(at, "depot"), os.path.join(at, "a.jsonl")
                shutil.copytree(filled, depot)
                write(file, entries("a", 1700))
                command = [PROGRAM, "sync", depot, file, "--as", "anna"]
                if turn == 0:
                    begun = time.monotonic()
                    subprocess.run(command, check=True, capture_output=True, timeout=60)
                    takes_s = time.monotonic() - begun
                    whole = (read(file), segments(depot))
                    self.assertEqual(whole[0], entries("a", 1700) + entries("b", 2300))
                else:
                    for _ in range(2):
                        with subprocess.Popen(command, stdout=subprocess.DEVNULL) as killed:
                            time.sleep(chance.uniform(0, takes_s))
                            killed.kill()
                        self.assert_whole(depot)
                        self.assertIn(read(file), (entries("a", 1700), whole[0]))
                    self.assertEqual(run(*command[1:]).returncode, 0)
                    self.assertEqual((read(file), segments(depot)), whole)
                shutil.rmtree(depot)

    def test_sync_with_a_full_disk_says_so_and_goes_on_from_there(self):
        with tempfile.TemporaryDirectory() as at:
            depot, a, b = (os.path.join(at, name) for name in ("depot", "a.jsonl", "b.jsonl"))
            os.mkdir(depot)
            write(a, entries("a", 200))
            write(b, entries("b", 3))
            run("sync", depot, b, "--as", "ben")
            limit = no_file_beyond(os.path.getsize(a) // 2)
            # First the logbook cannot take what came; then, with nothing to come, the folder cannot take a file.
            for before, code in ((entries("a", 200), 2), (entries("a", 200) + entries("b", 3), 1)):
                write(a, before)
                ran = run("sync", depot, a, "--as", "anna", preexec_fn=limit)
                self.assertEqual(ran.returncode, code, ran.stderr)
                self.assertIn("the disk is full", ran.stderr)
                self.assertEqual(read(a), before)
                self.assertEqual(list(segments(depot)), [name for name in segments(depot) if name.startswith("ben/")])
            self.assertEqual(run("sync", depot, a, "--as", "anna").returncode, 0)
            run("sync", depot, b, "--as", "ben")
            self.assertEqual(read(a), read(b))
            self.assertEqual([name for name in os.listdir(at) if name.endswith(".part")], [])

    def test_sync_takes_from_a_folder_that_may_not_be_written(self):
        with tempfile.TemporaryDirectory() as at:
            depot, own = os.path.join(at, "depot"), os.path.join(at, "own")
            os.mkdir(depot)
            os.mkdir(own)
            write(os.path.join(at, "b.jsonl"), entries("b", 3))
            run("sync", depot, os.path.join(at, "b.jsonl"), "--as", "ben")
            file = os.path.join(own, "a.jsonl")
            write(file, entries("a", 3))
            program = shutil.copy(PROGRAM, at)
            as_user = {}
            if os.geteuid() == 0:
                # To root nothing is forbidden.
                as_user = {"user": 65534, "group": 65534, "extra_groups": []}
                os.chown(own, 65534, 65534)
                os.chown(file, 65534, 65534)
            os.chmod(at, 0o755)
            os.chmod(depot, 0o555)
            ran = subprocess.run(
                [program, "sync", depot, file, "--as", "anna"], capture_output=True, text=True, timeout=60, **as_user
            )
            os.chmod(depot, 0o755)
            self.assertEqual(ran.returncode, 1, ran.stderr)
            self.assertIn("no right to do that", ran.stderr)
            self.assertEqual(json.loads(ran.stdout)["faults"][0]["fault"], "no_right")
            self.assertEqual(read(file), entries("a", 3) + entries("b", 3))


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
