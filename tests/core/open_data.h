// Tables that tests read: those that other libraries made, committed in tests/published, and open field data,
// which is not committed and may not be at hand.
//
//   const std::optional<OpenData::Table> sonde = open_data("grand-bay-2021-sonde.csv");
//   if (!sonde) GTEST_SKIP() << kNoOpenData;
//   const std::vector<double> temperature_c = sonde->column("temperature_c");
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#ifdef __EMSCRIPTEN__
#include <emscripten.h>
#endif

namespace tawny {

inline constexpr const char* kNoOpenData =
    "the open field data is not at hand: name its folder in TAWNY_OPEN_DATA";

struct OpenData {
  class Table {
   public:
    // Lines that begin with '#' are about the table; the first other line names the columns.
    explicit Table(std::string_view csv) {
      while (!csv.empty()) {
        const std::size_t end = csv.find('\n');
        std::string_view line = csv.substr(0, end);
        csv.remove_prefix(end == std::string_view::npos ? csv.size() : end + 1);
        if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
        if (line.empty() || line.front() == '#') continue;
        (names_.empty() ? names_ : rows_.emplace_back()) = cells_of(line);
      }
    }

    std::size_t rows() const { return rows_.size(); }

    // As it stands in the file, empty where the line is too short. A column that is not there fails the test.
    std::vector<std::string> text(std::string_view name) const {
      std::size_t at = 0;
      while (at < names_.size() && names_[at] != name) ++at;
      if (at == names_.size()) ADD_FAILURE() << "the table has no column " << name;
      std::vector<std::string> column;
      for (const std::vector<std::string>& row : rows_) column.push_back(at < row.size() ? row[at] : "");
      return column;
    }

    // NaN where the cell is blank, "NA", or no number.
    std::vector<double> column(std::string_view name) const {
      std::vector<double> numbers;
      for (const std::string& cell : text(name)) {
        char* end = nullptr;
        const double number = std::strtod(cell.c_str(), &end);
        const bool whole = !cell.empty() && *end == '\0';
        numbers.push_back(whole ? number : std::numeric_limits<double>::quiet_NaN());
      }
      return numbers;
    }

   private:
    static std::vector<std::string> cells_of(std::string_view line) {
      std::vector<std::string> cells;
      for (bool more = true; more;) {
        const std::size_t comma = line.find(',');
        std::string_view cell = line.substr(0, comma);
        if (cell.size() >= 2 && cell.front() == '"' && cell.back() == '"')
          cell = cell.substr(1, cell.size() - 2);
        cells.emplace_back(cell);
        more = comma != std::string_view::npos;
        if (more) line.remove_prefix(comma + 1);
      }
      return cells;
    }

    std::vector<std::string> names_;
    std::vector<std::vector<std::string>> rows_;
  };
};

inline std::optional<OpenData::Table> table_at(const std::string& path) {
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (file == nullptr) return std::nullopt;
  std::string csv;
  char part[1 << 16];
  for (std::size_t got; (got = std::fread(part, 1, sizeof part, file)) > 0;) csv.append(part, got);
  std::fclose(file);
  return OpenData::Table(csv);
}

// From the folder that the environment variable TAWNY_OPEN_DATA names, else from ../shared/data beside the
// source tree; nothing when the file is not there.
inline std::optional<OpenData::Table> open_data(const std::string& file) {
#ifdef __EMSCRIPTEN__
  const char* named = emscripten_run_script_string("process.env.TAWNY_OPEN_DATA || ''");
#else
  const char* named = std::getenv("TAWNY_OPEN_DATA");
#endif
  const std::string folder =
      named != nullptr && *named != '\0' ? std::string(named) : std::string(TAWNY_SOURCE_DIR "/../shared/data");
  return table_at(folder + "/" + file);
}

// A table of tests/published: never missing.
inline OpenData::Table published_table(const std::string& file) {
  std::optional<OpenData::Table> table = table_at(TAWNY_SOURCE_DIR "/tests/published/" + file);
  if (!table || table->rows() == 0) ADD_FAILURE() << "tests/published/" << file << " is missing or empty";
  return table ? *std::move(table) : OpenData::Table("");
}

// What is left of a comparison over many rows.
struct Differences {
  int count = 0;
  double mean = 0, sd = 0, largest = 0;  // largest: by size

  void add(double difference) {
    ++count;
    sum_ += difference;
    squares_ += difference * difference;
    largest = std::fmax(largest, std::fabs(difference));
    mean = sum_ / count;
    sd = count < 2 ? 0 : std::sqrt((squares_ - sum_ * mean) / (count - 1));
  }

 private:
  double sum_ = 0, squares_ = 0;
};

}  // namespace tawny
