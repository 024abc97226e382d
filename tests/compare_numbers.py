#!/usr/bin/env python3
"""Holds two outputs of core_numbers together: compare_numbers.py NATIVE WASM

Each line is "name value". The two must hold the same names, and values that agree to twelve significant digits.
"""
import math
import sys

DIGITS = 12


def read(file):
    numbers = {}
    with open(file, encoding="utf-8") as text:
        for line in text:
            name, value = line.rsplit(" ", 1)
            if name in numbers:
                sys.exit(f"{file}: {name} stands twice")
            numbers[name] = float(value)
    return numbers


def agree(a, b):
    if not (math.isfinite(a) and math.isfinite(b)):
        return False
    return abs(a - b) <= 0.5 * 10 ** (1 - DIGITS) * max(abs(a), abs(b))


def main(native_file, wasm_file):
    native, wasm = read(native_file), read(wasm_file)
    bad = [f"{name}: only in one of the two" for name in sorted(native.keys() ^ wasm.keys())]
    bad += [
        f"{name}: native {native[name]!r}, wasm {wasm[name]!r}"
        for name in native
        if name in wasm and not agree(native[name], wasm[name])
    ]
    if not native:
        bad.append("no numbers at all")
    for line in bad:
        print(line)
    same = sum(1 for name in native if native[name] == wasm.get(name))
    print(f"{len(native)} numbers, {same} of them the same to the last bit, {len(bad)} apart")
    sys.exit(1 if bad else 0)


main(sys.argv[1], sys.argv[2])
