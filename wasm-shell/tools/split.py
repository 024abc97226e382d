#!/usr/bin/env python3
"""Splits the program into what the first screen needs and the rest: split.py WHOLE LIST FIRST REST

WHOLE is a wasm file with names, LIST the functions of the first part, a mangled name a line
(wasm-shell/first-screen.txt, made by tests/browser/first-screen.mjs). What LIST does not name comes with the rest; the
page starts anew, whole, should the first screen ask for it all the same. Needs Binaryen's wasm-split and wasm-opt.
"""
import pathlib
import subprocess
import sys
import tempfile

# What Emscripten's linker makes by itself: no browser that runs WebAssembly is shut out by more.
FEATURES = ["--mvp-features", "--enable-mutable-globals"]


def split(whole, names, first, rest):
    with tempfile.TemporaryDirectory() as folder:
        parts = [pathlib.Path(folder, name) for name in ("first", "rest")]
        # A name that is no longer in the program is only said.
        said = subprocess.run(
            ["wasm-split", *FEATURES, f"--keep-funcs=@{names}", whole, "-o1", parts[0], "-o2", parts[1],
             "--export-prefix=%"], check=True, capture_output=True, text=True)
        strange = [line for line in said.stderr.splitlines() if not line.endswith("does not exist")]
        if strange:
            sys.exit("\n".join(strange))
        for part, out in zip(parts, (first, rest)):
            subprocess.run(["wasm-opt", *FEATURES, "--strip-debug", "--strip-producers", part, "-o", out], check=True)


if __name__ == "__main__":
    if len(sys.argv) != 5:
        sys.exit(__doc__)
    split(*sys.argv[1:])
