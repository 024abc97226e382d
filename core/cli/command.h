// tawny: what the app reckons and assesses, from a shell. JSON goes out, one clear line says what was wrong.
//
//   exit code   0 done
//               1 done, and something was found or left out: it is said on the error stream
//               2 not done: nothing on the output stream
//
// The commands are functions of their arguments and of what Outside reads and checks for them, so tests run them
// whole.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "base/time.h"
#include "logbook/depot_run.h"
#include "logbook/trust.h"
#include "words/words.h"

namespace tawny::cli {

template <typename T>
using Carried = tl::expected<T, CarryFault>;

// The world outside, as far as a command may look at it and change it.
class Outside {
 public:
  virtual ~Outside() = default;
  // All bytes of a file, "-" is the input stream. Refuses (missing) what cannot be read, and (malformed) what is
  // larger than any logbook.
  virtual Result<std::string> read(const std::string& path) = 0;
  virtual Instant now() = 0;
  virtual bool is_good(const SignatureCheck& check) = 0;

  // What is in a folder, by its bare names; a folder's ends with "/".
  virtual Carried<std::vector<std::string>> list(const std::string& folder) = 0;
  // As read(), and says why not.
  virtual Carried<std::string> get(const std::string& path) = 0;
  // The file has all these bytes, or is as it was before; once done, a loss of power does not undo it.
  virtual Carried<void> put(const std::string& path, const std::string& bytes) = 0;
  // Well when it is there already. Its parent must be there.
  virtual Carried<void> make_folder(const std::string& path) = 0;
};

struct Outcome {
  int exit_code = 0;
  std::string out;
  std::string err;
};

// `arguments` without the program's name.
Outcome run(const std::vector<std::string>& arguments, Outside& outside);

// --- for the files of this folder
using Arguments = std::vector<std::string>;  // behind the command's name
Outcome run_reckon(const Arguments& arguments, const Words& words);
Outcome run_assess(const Arguments& arguments, Outside& outside, Words words);
Outcome run_check(const Arguments& arguments, Outside& outside, Words words);
Outcome run_export(const Arguments& arguments, Outside& outside, const Words& words);
Outcome run_merge(const Arguments& arguments, Outside& outside, const Words& words);
Outcome run_outlook(const Arguments& arguments, Outside& outside, Words words);
Outcome run_report(const Arguments& arguments, Outside& outside, const Words& words);
Outcome run_sync(const Arguments& arguments, Outside& outside, const Words& words);

// Exit code 2, "tawny <what>: <line>".
Outcome refused(std::string_view what, std::string_view line);

}  // namespace tawny::cli
