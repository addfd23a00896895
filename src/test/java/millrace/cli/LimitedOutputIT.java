// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Every command that writes, where files may grow to 0, 1, 2, ... KiB and no further by a limit of
 * the operating system, until it succeeds: before that it ends with 5 and a sentence, claims
 * nothing, and leaves no half file.
 */
class LimitedOutputIT {
  private static final String OUT = "@out";

  private static final List<String> COMMANDS =
      List.of(
          "export 1",
          "analyze 1 --json",
          "runs",
          "show 1",
          "compare 1 2",
          "schema sequence",
          "export 1 -o @out",
          "report 1 -o @out",
          "report 1 --sheet -o @out",
          "compare 1 2 --csv @out",
          "compare 1 2 -o @out",
          "export 1 --pack @out",
          "export --backup @out",
          "predict 1 --json",
          "note 1 seen",
          "import examples/fx-3-by-hand.csv --datasheet examples/fx-3.datasheet.yaml",
          "import examples/fx-3-by-hand.csv --logbook @out",
          "budget examples/fx-3.datasheet.yaml --json",
          "run @short --unit FX3-00042 --datasheet examples/fx-3.datasheet.yaml --simulated"
              + " --logbook @out");

  private static final String SHORT =
      """
      sequence: short
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      steps: [{in ranges: [1mA], do: {over loads: {resistance: [100 ohm, 1 kohm]}}}]
      """;

  @TempDir private Path folder;
  private Path library = Path.of("");

  /** SQLite's own library is unpacked beforehand; the limit is not for it. */
  @BeforeEach
  void prepare() throws IOException {
    Needs.program("bash");
    for (int i = 0; i < 2; i++) {
      Spoken.importExample(book());
    }
    Files.writeString(folder.resolve("short.yaml"), SHORT);
    library = Files.createDirectories(folder.resolve("library"));
    String name = System.mapLibraryName("sqlitejdbc");
    String resource =
        "/org/sqlite/native/%s/%s"
            .formatted(org.sqlite.util.OSInfo.getNativeLibFolderPathForCurrentOS(), name);
    try (InputStream in =
        Objects.requireNonNull(org.sqlite.JDBC.class.getResourceAsStream(resource))) {
      Files.copy(in, library.resolve(name));
    }
  }

  private String book() {
    return folder.resolve("a.db").toString();
  }

  /** The exit code of a command whose files may have so many KiB. */
  private int limited(String command, int kib) throws IOException, InterruptedException {
    Path target = folder.resolve("made");
    for (String each : List.of("made", "made-wal", "made-shm")) {
      Files.deleteIfExists(folder.resolve(each));
    }
    String words =
        command
            .replace(OUT, "'" + target + "'")
            .replace("@short", "'" + folder.resolve("short.yaml") + "'");
    boolean reads = !command.matches("(schema|budget).*|.*--logbook.*");
    String line =
        "ulimit -f %s; exec '%s' -XX:-UsePerfData -XX:TieredStopAtLevel=1 -XX:+UseSerialGC -Dorg.sqlite.lib.path='%s' -cp '%s' millrace.cli.Main %s%s > '%s'"
            .formatted(
                kib,
                Path.of(System.getProperty("java.home"), "bin", "java"),
                library,
                System.getProperty("java.class.path"),
                words,
                reads ? " --logbook '" + book() + "'" : "",
                folder.resolve("out"));
    Process process = new ProcessBuilder("bash", "-c", line).start();
    // Through a pipe: a file would be under the limit, too.
    Files.write(folder.resolve("err"), process.getErrorStream().readAllBytes());
    assertTrue(process.waitFor(120, TimeUnit.SECONDS), command);
    return process.exitValue();
  }

  private void assertToldOrWhole(String command, int code) throws IOException {
    String said = Files.readString(folder.resolve("err"));
    assertFalse(said.contains("fault of Millrace"), command + ": " + said);
    assertTrue(code == 5 || code == 0 || code == 1 || code == 7, command + ": " + code + said);
    if (code == 5) {
      assertTrue(said.contains("millrace: "), command + ": " + said);
      String claims = "(?s).*(Exported|Packed|Imported) [0-9].*";
      assertFalse(said.matches(claims), command + ": " + said);
      assertWholeOrNone(command);
    }
    try (var all = Files.list(folder)) {
      assertFalse(all.anyMatch(p -> p.toString().endsWith(".part")), command);
    }
  }

  /** Whatever broke off while it was written, the logbook is read by the next command. */
  private void assertStillRead(String command) {
    Spoken listed = Spoken.by("runs", "--logbook", book());
    assertEquals(0, listed.code(), command + ": " + listed.err());
  }

  /** A logbook that was begun is one that the next command reads; any other file is not there. */
  private void assertWholeOrNone(String command) {
    Path made = folder.resolve("made");
    if (command.endsWith("--logbook " + OUT)) {
      Spoken listed = Spoken.by("runs", "--logbook", made.toString());
      assertTrue(Files.notExists(made) || listed.code() == 0, command + ": " + listed.err());
    } else {
      assertFalse(Files.exists(made), command + " left half a file");
    }
  }

  /** Tries limits until it succeeds; how many failed. */
  private int failures(String command, int first, int step) throws Exception {
    int failed = 0;
    for (int kib = first; ; kib += Math.max(1, kib * step / 4)) {
      int code = limited(command, kib);
      assertToldOrWhole(command, code);
      assertStillRead(command);
      if (code != 5) {
        return failed;
      }
      failed++;
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"analyze 1 --json", "compare 1 2 --csv @out", "export 1 --pack @out"})
  @Timeout(120)
  void aFewAreTold(String command) throws Exception {
    int code = limited(command, 1);
    assertEquals(5, code, Files.readString(folder.resolve("err")));
    assertToldOrWhole(command, code);
  }

  /** Limits that break off what moves the write-ahead log into the file. */
  @Test
  @Timeout(240)
  void anImportThatBreaksOffLeavesALogbook() throws Exception {
    String command = "import examples/fx-3-by-hand.csv --datasheet examples/fx-3.datasheet.yaml";
    int kib = (int) (Files.size(Path.of(book())) / 1024);
    int told = 0;
    for (int limit = kib - 60; limit <= kib + 40; limit += 25) {
      int code = limited(command, limit);
      assertToldOrWhole(command, code);
      assertStillRead(command + " up to " + limit + " KiB");
      told += code == 5 ? 1 : 0;
    }
    assertTrue(told > 0, "no limit was met");
  }

  @Test
  @Tag("campaign")
  @Timeout(5400)
  void allAreToldUntilThereIsRoom() throws Exception {
    StringBuilder figures = new StringBuilder();
    for (String command : COMMANDS) {
      int failed = failures(command, 0, 1);
      assertTrue(failed > 0, command + " never met the limit");
      figures.append("%s limits failed and were told: %s%n".formatted(failed, command));
      Path out = Files.createDirectories(Path.of("target", "verification"));
      Files.writeString(out.resolve("limited-output.txt"), figures);
    }
  }
}
