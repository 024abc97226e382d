// The program itself: files, the clock and the streams, and nothing else.
#include <chrono>
#include <cstdio>

#include "cli/command.h"

namespace {

class Machine : public tawny::cli::Outside {
 public:
  tawny::Result<std::string> read(const std::string& path) override {
    std::FILE* file = path == "-" ? stdin : std::fopen(path.c_str(), "rb");
    if (file == nullptr) return unreadable(path);
    std::string text;
    char part[1 << 16];
    std::size_t count = 0;
    while ((count = std::fread(part, 1, sizeof part, file)) > 0) text.append(part, count);
    const bool failed = std::ferror(file) != 0;
    if (file != stdin) std::fclose(file);
    if (failed) return unreadable(path);
    return text;
  }

  tawny::Instant now() override {
    const auto since_1970 = std::chrono::system_clock::now().time_since_epoch();
    return tawny::Instant{std::chrono::duration_cast<std::chrono::seconds>(since_1970).count()};
  }

 private:
  static tl::unexpected<tawny::Problem> unreadable(const std::string& path) {
    return tawny::refuse(tawny::ProblemKind::missing, "",
                         tawny::Message("problem.file_unreadable").with("file", tawny::Text{path}));
  }
};

// False when the other end has gone or the disk is full.
bool write(std::FILE* stream, const std::string& text) {
  return std::fwrite(text.data(), 1, text.size(), stream) == text.size() && std::fflush(stream) == 0;
}

}  // namespace

int main(int count, char** values) {
  Machine machine;
  const tawny::cli::Outcome outcome = tawny::cli::run({values + 1, values + count}, machine);
  write(stderr, outcome.err);
  if (!write(stdout, outcome.out)) {
    write(stderr, "tawny: the answer could not be written\n");
    return 2;
  }
  return outcome.exit_code;
}
