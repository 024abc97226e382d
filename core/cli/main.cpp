// The program itself: files, the clock and the streams, and nothing else.
#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "cli/command.h"
#include "cli/openssl_check.h"

namespace {

using tawny::CarryFault;
using tawny::cli::Carried;

// A million entries are smaller.
constexpr int kMostFileMegabytes = 512;

CarryFault fault_of(int error) {
  switch (error) {
    case ENOENT:
    case ENOTDIR:
      return CarryFault::not_there;
    case EACCES:
    case EPERM:
    case EROFS:
      return CarryFault::no_right;
    case ENOSPC:
    case EDQUOT:
    case EFBIG:
      return CarryFault::full;
    default:
      return CarryFault::server;
  }
}

tl::unexpected<CarryFault> last_fault() { return tl::unexpected<CarryFault>(fault_of(errno)); }

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == std::string::npos ? "." : path.substr(0, slash + 1);
}

// What was renamed in it stays renamed when the power goes. Not every file system can; nothing hangs on it.
void settle_folder(const std::string& folder) {
  const int handle = open(folder.c_str(), O_RDONLY);
  if (handle < 0) return;
  fsync(handle);
  close(handle);
}

bool write_all(int handle, const std::string& bytes) {
  for (std::size_t at = 0; at < bytes.size();) {
    const ssize_t count = write(handle, bytes.data() + at, bytes.size() - at);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return false;
    at += static_cast<std::size_t>(count);
  }
  return true;
}

class Machine : public tawny::cli::Outside {
 public:
  tawny::Result<std::string> read(const std::string& path) override {
    Carried<std::string> text = path == "-" ? take(stdin) : get(path);
    if (!text && text.error() == CarryFault::malformed) {
      return tawny::refuse(tawny::ProblemKind::malformed, "",
                           tawny::Message("problem.file_too_large")
                               .with("file", tawny::Text{path})
                               .with("limit", tawny::bare(kMostFileMegabytes)));
    }
    if (!text) {
      return tawny::refuse(tawny::ProblemKind::missing, "",
                           tawny::Message("problem.file_unreadable").with("file", tawny::Text{path}));
    }
    return *std::move(text);
  }

  Carried<std::string> get(const std::string& path) override {
    std::FILE* file = std::fopen(path.c_str(), "rb");
    if (file == nullptr) return last_fault();
    Carried<std::string> text = take(file);
    std::fclose(file);
    return text;
  }

  Carried<std::vector<std::string>> list(const std::string& folder) override {
    DIR* handle = opendir(folder.c_str());
    if (handle == nullptr) return last_fault();
    std::vector<std::string> names;
    errno = 0;
    while (const dirent* item = readdir(handle)) {
      const std::string name = item->d_name;
      struct stat about {};
      if (name == "." || name == ".." || stat((folder + "/" + name).c_str(), &about) != 0) continue;
      names.push_back(S_ISDIR(about.st_mode) ? name + "/" : name);
      errno = 0;
    }
    const int error = errno;
    closedir(handle);
    if (error != 0) return tl::unexpected<CarryFault>(fault_of(error));
    return names;
  }

  // Into a new file beside it, which then takes its name.
  Carried<void> put(const std::string& named, const std::string& bytes) override {
    // Behind a link lies the file that is meant.
    char* real = realpath(named.c_str(), nullptr);
    const std::string path = real == nullptr ? named : real;
    std::free(real);
    struct stat before {};
    const mode_t mode = stat(path.c_str(), &before) == 0 ? before.st_mode & 0777 : 0666;
    const std::string folder = folder_of(path);
    const std::string part = (folder == "." ? "" : folder) + ".tawny-" + std::to_string(getpid()) + ".part";
    const int handle = open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC, mode);
    if (handle < 0) return last_fault();
    const bool written = write_all(handle, bytes) && fsync(handle) == 0;
    const int error = errno;
    if (close(handle) != 0 || !written || std::rename(part.c_str(), path.c_str()) != 0) {
      const CarryFault fault = fault_of(written ? errno : error);
      unlink(part.c_str());
      return tl::unexpected<CarryFault>(fault);
    }
    settle_folder(folder);
    return {};
  }

  Carried<void> make_folder(const std::string& path) override {
    if (mkdir(path.c_str(), 0777) == 0) {
      settle_folder(folder_of(path));
      return {};
    }
    struct stat about {};
    const int error = errno;
    if (stat(path.c_str(), &about) == 0 && S_ISDIR(about.st_mode)) return {};
    return tl::unexpected<CarryFault>(fault_of(error));
  }

  bool is_good(const tawny::SignatureCheck& check) override { return tawny::cli::is_good_signature(check); }

  tawny::Instant now() override {
    const auto since_1970 = std::chrono::system_clock::now().time_since_epoch();
    return tawny::Instant{std::chrono::duration_cast<std::chrono::seconds>(since_1970).count()};
  }

 private:
  // Malformed: it is larger than any logbook; then it is not read to its end.
  static Carried<std::string> take(std::FILE* file) {
    constexpr std::size_t kMostBytes = std::size_t{kMostFileMegabytes} << 20;
    struct stat about {};
    const bool is_known = fstat(fileno(file), &about) == 0 && S_ISREG(about.st_mode);
    if (is_known && static_cast<std::uint64_t>(about.st_size) > kMostBytes) {
      return tl::unexpected<CarryFault>(CarryFault::malformed);
    }
    std::string text;
    char part[1 << 16];
    std::size_t count = 0;
    while ((count = std::fread(part, 1, sizeof part, file)) > 0) {
      if (text.size() + count > kMostBytes) return tl::unexpected<CarryFault>(CarryFault::malformed);
      text.append(part, count);
    }
    if (std::ferror(file) != 0) return last_fault();
    return text;
  }
};

// False when the other end has gone or the disk is full.
bool print(std::FILE* stream, const std::string& text) {
  return std::fwrite(text.data(), 1, text.size(), stream) == text.size() && std::fflush(stream) == 0;
}

}  // namespace

int main(int count, char** values) {
  Machine machine;
  const tawny::cli::Outcome outcome = tawny::cli::run({values + 1, values + count}, machine);
  print(stderr, outcome.err);
  if (!print(stdout, outcome.out)) {
    print(stderr, "tawny: the answer could not be written\n");
    return 2;
  }
  return outcome.exit_code;
}
