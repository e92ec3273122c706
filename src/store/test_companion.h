// store/test_companion.h - a program of tests/ that runs beside a test. It prints one line when it is ready.
//   It ends when we do, however we end, because its standard input is a pipe that only we hold.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <stdexcept>
#include <string>
#include <vector>

namespace footring::store {

class Companion {
  public:
    // `program`: "cluster.py"; throws when it does not start.
    explicit Companion(const std::string& program, const std::vector<std::string>& words = {}) {
        std::array<int, 2> to_it{}, from_it{};
        if (::pipe2(to_it.data(), O_CLOEXEC) != 0 || ::pipe2(from_it.data(), O_CLOEXEC) != 0)
            throw std::runtime_error("no pipe to " + program);
        std::vector<std::string> all = {"python3", FOOTRING_ROOT "/tests/" + program};
        all.insert(all.end(), words.begin(), words.end());
        std::vector<char*> arguments;
        for (std::string& word : all) arguments.push_back(word.data());
        arguments.push_back(nullptr);
        process_ = ::fork();
        if (process_ == 0) {
            ::dup2(to_it[0], 0);
            ::dup2(from_it[1], 1);
            ::execv("/usr/bin/python3", arguments.data());
            ::_exit(127);
        }
        ::close(to_it[0]);
        ::close(from_it[1]);
        end_ = to_it[1];
        for (char c = 0; ::read(from_it[0], &c, 1) == 1 && c != '\n';) line_ += c;
        ::close(from_it[0]);
        if (line_.empty()) {
            stop();
            throw std::runtime_error(program + " does not start: see above what it said");
        }
    }
    ~Companion() { stop(); }
    Companion(const Companion&) = delete;
    Companion& operator=(const Companion&) = delete;
    const std::string& line() const { return line_; }
    void stop() {
        if (process_ == 0) return;
        ::close(end_);
        ::waitpid(process_, nullptr, 0);
        process_ = 0;
    }

  private:
    pid_t process_ = 0;
    int end_ = -1;
    std::string line_;
};

}  // namespace footring::store
