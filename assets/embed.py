#!/usr/bin/env python3
"""Writes a C++ file that holds the given files as byte arrays, found by name: embed.py OUT.cpp FUNCTION FILE...

JSON is stored without white space: people edit the files, the phone downloads them.
"""
import json
import os
import sys


def content(path):
    with open(path, "rb") as file:
        data = file.read()
    if path.endswith(".json"):
        data = json.dumps(json.loads(data), ensure_ascii=False, separators=(",", ":")).encode()
    return data


def main(out, function, paths):
    parts = ['#include "assets.h"\n\nnamespace tawny::assets {\nnamespace {\n']
    table = []
    for index, path in enumerate(paths):
        data = content(path)
        parts.append(f"const unsigned char file_{index}[] = {{")
        parts.append(",".join(str(byte) for byte in data) or "0")
        parts.append("};\n")
        table.append((os.path.basename(path), index, len(data)))
    parts.append("}  // namespace\n\nstd::string_view " + function + "(std::string_view name) {\n")
    for name, index, size in table:
        parts.append(
            f'  if (name == "{name}") return {{reinterpret_cast<const char*>(file_{index}), {size}}};\n'
        )
    parts.append("  return {};\n}\n\n}  // namespace tawny::assets\n")
    with open(out, "w", encoding="ascii") as file:
        file.write("".join(parts))


main(sys.argv[1], sys.argv[2], sys.argv[3:])
