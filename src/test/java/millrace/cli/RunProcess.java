// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** Millrace in a process of its own, as a person starts it, in a folder of the test's. */
final class RunProcess {
  private final Path folder;
  private final Process process;

  private RunProcess(Path folder, Process process) {
    this.folder = folder;
    this.process = process;
  }

  /** Starts a command; what it prints goes to the files out and err of the folder. */
  static RunProcess start(Path folder, String... words) throws IOException {
    return start(folder, folder, words);
  }

  /** The same with an option of the virtual machine. */
  static RunProcess with(String option, Path folder, String... words) throws IOException {
    ProcessBuilder builder = builder(folder, folder, words);
    builder.command().add(1, option);
    builder.redirectInput(new java.io.File("/dev/null"));
    return new RunProcess(folder, builder.start());
  }

  /** The same for a user whose own folder is another. */
  static RunProcess start(Path folder, Path home, String... words) throws IOException {
    ProcessBuilder builder = builder(folder, home, words);
    builder.redirectInput(new java.io.File("/dev/null"));
    return new RunProcess(folder, builder.start());
  }

  /** The same for a person who has not typed anything yet. */
  static RunProcess attended(Path folder, String... words) throws IOException {
    return new RunProcess(folder, builder(folder, folder, words).start());
  }

  private static ProcessBuilder builder(Path folder, Path home, String... words) {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "--enable-native-access=ALL-UNNAMED",
                "-XX:TieredStopAtLevel=1",
                "-XX:+UseSerialGC",
                "-Duser.home=" + home,
                "-cp",
                System.getProperty("java.class.path"),
                "millrace.cli.Main"));
    command.addAll(List.of(words));
    ProcessBuilder builder = new ProcessBuilder(command);
    builder.redirectOutput(folder.resolve("out").toFile());
    builder.redirectError(folder.resolve("err").toFile());
    return builder;
  }

  Process process() {
    return process;
  }

  /** Waits until a file has so many lines, or the process has ended; the lines. */
  List<String> lines(Path file, int least) throws IOException, InterruptedException {
    while (true) {
      boolean ended = process.waitFor(5, TimeUnit.MILLISECONDS);
      List<String> lines = Files.exists(file) ? Files.readAllLines(file) : List.of();
      if (ended || lines.size() >= least) {
        return lines;
      }
    }
  }

  /** Waits until a file holds some words, or the process has ended. */
  void says(Path file, String words) throws IOException, InterruptedException {
    while (!process.waitFor(5, TimeUnit.MILLISECONDS)) {
      if (Files.exists(file) && Files.readString(file).contains(words)) {
        return;
      }
    }
    throw new AssertionError("it ended and never said '" + words + "': " + said());
  }

  /** Sends a signal by its name. */
  void signal(String name) throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-" + name, Long.toString(process.pid())).start().waitFor();
  }

  /** Waits for the end; the exit code. */
  int ended() throws InterruptedException {
    if (!process.waitFor(600, TimeUnit.SECONDS)) {
      throw new AssertionError("the process does not end: " + said());
    }
    return process.exitValue();
  }

  /** What it said beside its results. */
  String said() {
    try {
      return Files.readString(folder.resolve("err"), StandardCharsets.UTF_8);
    } catch (IOException e) {
      return "nothing that can be read: " + e.getMessage();
    }
  }
}
