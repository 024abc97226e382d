// Reads a table as a spreadsheet would (RFC 4180), and holds that nothing in it runs.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "fuzz/fuzz.h"

namespace tawny::fuzz {

inline bool is_plain_number(std::string_view cell) {
  return !cell.empty() && cell.find_first_not_of("0123456789.eE+-") == std::string_view::npos;
}

inline bool runs(std::string_view cell) {
  for (const std::string_view start :
       {"=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20"}) {
    if (cell.substr(0, start.size()) == start) return !is_plain_number(cell);
  }
  return false;
}

inline void expect_inert(std::string_view table) {
  constexpr std::string_view kMark = "\xef\xbb\xbf";
  expect(table.substr(0, kMark.size()) == kMark, "a byte order mark in front");
  table.remove_prefix(kMark.size());
  std::size_t cells = 0, cells_of_head = 0;
  while (!table.empty()) {
    std::string cell;
    if (table.front() == '"') {
      std::size_t at = 1;
      for (; at < table.size(); ++at) {
        if (table[at] == '"' && table.substr(at, 2) != "\"\"") break;
        if (table[at] == '"') ++at;
        cell += table[at];
      }
      expect(at < table.size(), "a quote is closed");
      table.remove_prefix(at + 1);
    } else {
      const std::size_t end = std::min(table.find_first_of(",\r\n"), table.size());
      cell = std::string(table.substr(0, end));
      expect(cell.find('"') == std::string::npos, "no quote in a bare cell");
      table.remove_prefix(end);
    }
    expect(!runs(cell), "a cell that runs: " + cell);
    expect(cell.find('\0') == std::string::npos, "no NUL in a table");
    ++cells;
    if (!table.empty() && table.front() == ',') {
      table.remove_prefix(1);
      continue;
    }
    expect(table.substr(0, 2) == "\r\n", "a row ends with CR LF");
    table.remove_prefix(2);
    if (cells_of_head == 0) cells_of_head = cells;
    expect(cells == cells_of_head, "each row has the cells of the head");
    cells = 0;
  }
}

}  // namespace tawny::fuzz
