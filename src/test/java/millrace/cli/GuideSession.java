// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;

/**
 * A person at a shell who types what the guide says, to the letter: commands one after another,
 * with the folder and the variables that earlier ones left; a second terminal; answers to
 * questions.
 */
final class GuideSession implements AutoCloseable {
  /** How a question ends; before that, it has come in part only. */
  private static final Pattern WHOLE = Pattern.compile("(?:done|too)\\. $");

  private static final int ONE_STROKE_MS = 400;

  private final Path home;
  private final List<Process> beside = new ArrayList<>();
  private Map<String, String> variables = new TreeMap<>();
  private Path folder;
  private int code;
  private String output = "";

  /** Begins in the folder of Millrace, with a home folder that is empty. */
  GuideSession(Path home) throws IOException {
    this.home = home;
    this.folder = Path.of("").toAbsolutePath();
    Path bin = Files.createDirectories(home.resolve(".bin"));
    Path program = bin.resolve("millrace");
    Files.writeString(program, program());
    assertTrue(program.toFile().setExecutable(true));
    variables.put("PATH", bin + File.pathSeparator + System.getenv("PATH"));
    variables.put("HOME", home.toString());
  }

  /** What the launcher does, with the classes under test in place of the jar. */
  private String program() {
    return """
    #!/bin/sh
    exec '%s' --enable-native-access=ALL-UNNAMED -XX:+UseSerialGC -XX:TieredStopAtLevel=1 -Duser.home='%s' \\
      -Dstdout.encoding=UTF-8 -Dfile.encoding=UTF-8 -Dmillrace.home='%s' -Dmillrace.terminal="${GUIDE_TERMINAL:-false}" \\
      -cp '%s' millrace.cli.Main "$@"
    """
        .formatted(
            Path.of(System.getProperty("java.home"), "bin", "java"),
            home,
            folder,
            System.getProperty("java.class.path"));
  }

  private Process started(String command, boolean terminal) throws IOException {
    String script =
        "%s\n__code=$?\npwd > '%s'\nexport -p > '%s'\nexit $__code"
            .formatted(command, home.resolve(".pwd"), home.resolve(".variables"));
    ProcessBuilder builder = new ProcessBuilder("bash", "-c", script).directory(folder.toFile());
    builder.environment().putAll(variables);
    builder.environment().put("GUIDE_TERMINAL", String.valueOf(terminal));
    return builder.redirectErrorStream(true).start();
  }

  /** Types a command and waits until it has ended. */
  void type(String command) throws IOException, InterruptedException {
    Process process = started(command, false);
    process.getOutputStream().close();
    output = new String(process.getInputStream().readAllBytes(), UTF_8);
    ended(process);
  }

  private void ended(Process process) throws IOException, InterruptedException {
    code = process.waitFor();
    folder = Path.of(Files.readString(home.resolve(".pwd")).strip());
    Map<String, String> after = new TreeMap<>(variables);
    for (String line : Files.readAllLines(home.resolve(".variables"))) {
      if (line.matches("declare -x (PATH|MILLRACE)=\".*\"")) {
        int at = line.indexOf('=');
        after.put(line.substring(11, at), line.substring(at + 2, line.length() - 1));
      }
    }
    variables = after;
  }

  /** A question with its answer. */
  record Answer(String question, String typed) {}

  /** Types a command that asks, and answers; what is not given is answered as the guide says. */
  void answer(String command, List<Answer> answers) throws IOException, InterruptedException {
    Process process = started(command, true);
    Deque<Answer> left = new ArrayDeque<>(answers);
    StringBuilder all = new StringBuilder();
    int asked = 0;
    byte[] some = new byte[8192];
    InputStream in = process.getInputStream();
    OutputStream keys = process.getOutputStream();
    for (int n = in.read(some); n >= 0; n = in.read(some)) {
      all.append(new String(some, 0, n, UTF_8));
      int at = all.indexOf("\n? ", asked);
      if (at >= 0 && WHOLE.matcher(all).find()) {
        asked = all.length();
        String typed = answered(left, words(all.substring(at)));
        if (typed.isEmpty()) {
          // An Enter right behind a line counts as the end of that line: see TypedLineReader.
          Thread.sleep(ONE_STROKE_MS);
        }
        keys.write((typed + "\n").getBytes(UTF_8));
        keys.flush();
      }
    }
    output = all.toString();
    ended(process);
    assertEquals(List.of(), List.copyOf(left), "never asked; it said: " + output);
  }

  private static String answered(Deque<Answer> left, String question) {
    if (!left.isEmpty()) {
      Answer next = left.poll();
      assertEquals(words(next.question()), question);
      return next.typed();
    }
    if (!question.contains(" show? ")) {
      return "";
    }
    return question.contains("current meter") ? "1.00004 mA" : "23.1 degC";
  }

  static String words(String text) {
    return text.strip().replaceAll("\\s+", " ");
  }

  /** Types a command in a second terminal and leaves it running, once it has said some words. */
  void beside(String command, String until) throws IOException {
    Path said = Files.createTempFile(home, "beside", ".txt");
    ProcessBuilder builder =
        new ProcessBuilder("bash", "-c", "exec " + command).directory(folder.toFile());
    builder.environment().putAll(variables);
    Process process = builder.redirectErrorStream(true).redirectOutput(said.toFile()).start();
    beside.add(process);
    while (!Files.readString(said).contains(until)) {
      assertTrue(process.isAlive(), () -> "it ended: " + command);
      Thread.onSpinWait();
    }
  }

  /** Saves a file, as an editor does. */
  void save(String name, String text) throws IOException {
    Files.writeString(folder.resolve(name), text);
  }

  Path folder() {
    return folder;
  }

  int code() {
    return code;
  }

  String output() {
    return output;
  }

  @Override
  public void close() throws InterruptedException {
    for (Process process : beside) {
      process.destroy();
      process.waitFor();
    }
  }
}
