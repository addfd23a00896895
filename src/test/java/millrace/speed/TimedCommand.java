// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;

/** A command in a process of its own, timed by the shell that starts it. */
final class TimedCommand {
  /** As the launcher starts what is over soon. */
  static final List<String> QUICK = List.of("-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1");

  /** As the launcher starts what works for long. */
  static final List<String> STEADY = List.of("-XX:+UseSerialGC");

  static final Path LAUNCHER = Path.of("millrace").toAbsolutePath();

  private static final Path JAR = Path.of("target", "millrace.jar");
  private static final Path CLASSES = Path.of("target", "classes", "millrace", "cli", "Main.class");

  private final List<String> words;

  /** As the launcher starts the import of a large file. */
  static final List<String> LARGE_IMPORT =
      List.of(
          "-XX:+UseSerialGC",
          "-XX:Tier4InvocationThreshold=50000",
          "-XX:Tier4MinInvocationThreshold=6000",
          "-XX:Tier4CompileThreshold=150000",
          "-XX:Tier4BackEdgeThreshold=400000");

  /** Readings from which a file counts as large. */
  private static final int LARGE = 300_000;

  /** What a command took, s: elapsed, and of processors (its own and its children's). */
  record Took(double elapsedS, double processorS) {}

  private TimedCommand(List<String> words) {
    this.words = words;
  }

  /** Any command. */
  static TimedCommand of(String... words) {
    return new TimedCommand(List.of(words));
  }

  /** The main method of a class of this class path. */
  static TimedCommand java(List<String> options, String main, String... words) {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(options);
    command.addAll(List.of("-cp", System.getProperty("java.class.path"), main));
    command.addAll(List.of(words));
    return new TimedCommand(command);
  }

  /** Millrace. */
  static TimedCommand millrace(List<String> options, String... words) {
    return java(options, "millrace.cli.Main", words);
  }

  /** Millrace by its launcher, where that would not build it first; else with these options. */
  static TimedCommand launched(List<String> options, String... words) throws IOException {
    return isBuilt()
        ? of(Stream.concat(Stream.of(LAUNCHER.toString()), Stream.of(words)).toArray(String[]::new))
        : millrace(options, words);
  }

  /** Whether the jar is of these classes. */
  static boolean isBuilt() throws IOException {
    return Files.exists(JAR)
        && Files.exists(CLASSES)
        && Files.getLastModifiedTime(JAR).compareTo(Files.getLastModifiedTime(CLASSES)) >= 0;
  }

  /** An import of a file of so many readings, as the launcher starts it. */
  static TimedCommand imported(int readings, String csv, String book) throws IOException {
    return launched(readings > LARGE ? LARGE_IMPORT : QUICK, "import", csv, "--logbook", book);
  }

  /** The same, done also where its verdict is a fail or open. */
  TimedCommand whateverItsVerdict() {
    List<String> shell =
        new ArrayList<>(
            List.of(
                "bash",
                "-c",
                "\"$@\"; code=$?; [ $code = 1 ] || [ $code = 7 ] || exit $code",
                "-"));
    shell.addAll(words);
    return new TimedCommand(shell);
  }

  /** Whether a program is in PATH. */
  static boolean installed(String name) {
    return Arrays.stream(System.getenv().getOrDefault("PATH", "").split(File.pathSeparator))
        .anyMatch(each -> Files.isExecutable(Path.of(each, name)));
  }

  /** Does it to its end, which is to be 0. What it says goes into a file of the folder. */
  Took done(Path folder) throws IOException, InterruptedException {
    Path said = folder.resolve("said.txt");
    Path timed = folder.resolve("timed.txt");
    List<String> shell =
        new ArrayList<>(
            List.of("bash", "-c", "TIMEFORMAT='%3R %3U %3S'; time \"$@\" > \"$0\" 2>&1"));
    shell.add(said.toString());
    shell.addAll(words);
    ProcessBuilder builder = new ProcessBuilder(shell).redirectError(timed.toFile());
    builder.environment().put("LC_ALL", "C");
    int code = builder.start().waitFor();
    assertEquals(0, code, () -> words + ": " + read(said) + read(timed));
    String[] s = Files.readString(timed).strip().split(" ");
    return new Took(Double.parseDouble(s[0]), Double.parseDouble(s[1]) + Double.parseDouble(s[2]));
  }

  private static String read(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      return e.getMessage();
    }
  }
}
