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

  /** The same for a user whose own folder is another. */
  static RunProcess start(Path folder, Path home, String... words) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-XX:+UseSerialGC",
                "-Duser.home=" + home,
                "-cp",
                System.getProperty("java.class.path"),
                "millrace.cli.Main"));
    command.addAll(List.of(words));
    ProcessBuilder builder = new ProcessBuilder(command);
    builder.redirectInput(ProcessBuilder.Redirect.from(new java.io.File("/dev/null")));
    builder.redirectOutput(folder.resolve("out").toFile());
    builder.redirectError(folder.resolve("err").toFile());
    return new RunProcess(folder, builder.start());
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

  /** Sends a signal by its name. */
  void signal(String name) throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-" + name, Long.toString(process.pid())).start().waitFor();
  }

  /** Waits for the end; the exit code. */
  int ended() throws InterruptedException {
    if (!process.waitFor(120, TimeUnit.SECONDS)) {
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
