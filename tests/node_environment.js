// Goes into programs for Node.js, where getenv() would find an environment of Emscripten's own: what GoogleTest reads
// there, such as the share of the tests that this process runs.
Module['preRun'] = () => {
  for (const [name, value] of Object.entries(process.env)) {
    if (name.startsWith('GTEST_')) ENV[name] = value;
  }
};
