// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Commands work without the libraries that the build leaves out, and none loads the tables that it
 * does not need, which take a second.
 */
@Timeout(300)
class LibrariesIT {
  /** What Tablesaw names and nothing here calls, as pom.xml leaves it out; and what tests need. */
  private static final Pattern LEFT_OUT =
      Pattern.compile(
          ".*/(icu4j|jsr305|error_prone_annotations|failureaccess|listenablefuture"
              + "|j2objc-annotations|checker-qual|archunit|jazzer|json-schema-validator|itu)[^/]*");

  private static final String TABLES = "tech.tablesaw";

  @TempDir private Path folder;

  /** Words after words, each a command of its own, in one process. */
  static final class Commands {
    private Commands() {}

    public static void main(String[] args) {
      for (String words : args) {
        int code = Main.run(words.split(" "), millrace.terminal.Console.ofProcess());
        System.out.println(words + " -> " + code);
      }
    }
  }

  /** What those commands printed; what was loaded stands in a file then. */
  private String said(String... commands) throws IOException, InterruptedException {
    String classes =
        Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
            .filter(jar -> !LEFT_OUT.matcher(jar.replace('\\', '/')).matches())
            .collect(Collectors.joining(File.pathSeparator));
    List<String> line = new ArrayList<>();
    line.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    line.addAll(List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC"));
    line.add("-Xlog:class+load:file=" + folder.resolve("loaded.txt"));
    line.addAll(List.of("-cp", classes, Commands.class.getName()));
    line.addAll(List.of(commands));
    Process process = new ProcessBuilder(line).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), UTF_8);
    assertEquals(0, process.waitFor(), said);
    return said;
  }

  private boolean loaded(String name) throws IOException {
    try (Stream<String> lines = Files.lines(folder.resolve("loaded.txt"), UTF_8)) {
      return lines.anyMatch(l -> l.contains("] " + name));
    }
  }

  @Test
  void everyCommandOpensWithoutThemAndWithoutTables() throws Exception {
    List<String> names = HelpTest.commands().toList();
    assertTrue(names.size() >= 20, names.toString());
    List<String> commands = new ArrayList<>(names.stream().map(n -> n + " --help").toList());
    String book = " --logbook " + folder.resolve("a.db");
    commands.add(
        "import examples/fx-3-by-hand.csv --datasheet examples/fx-3.datasheet.yaml" + book);
    commands.add("runs" + book);
    commands.add("show 1" + book);
    commands.add("report 1 -o " + folder.resolve("a.html") + book);
    String compared = "compare 1" + book;
    commands.add(compared);

    String said = said(commands.toArray(String[]::new));

    commands.remove(compared);
    assertTrue(said.contains(compared + " -> 7"), said);
    notEmpty(commands).forEach(c -> assertTrue(said.contains(c + " -> 0"), said));
    assertTrue(loaded("millrace.cli.Main"));
    assertFalse(loaded(TABLES));
    assertFalse(loaded("com.openhtmltopdf") || loaded("org.apache.pdfbox"));
  }

  @Test
  void tablesAreWrittenWithoutThem() throws Exception {
    String book = " --logbook " + folder.resolve("a.db");
    String export = "export 1 -o " + folder.resolve("a.csv") + book;

    String said =
        said(
            "import examples/fx-3-by-hand.csv --datasheet examples/fx-3.datasheet.yaml" + book,
            export,
            "compare 1 --by batch,bench --csv " + folder.resolve("b.csv") + book);

    assertTrue(said.contains(export + " -> 0"), said);
    assertTrue(said.contains("load regulation, by batch, bench"), said);
    assertTrue(loaded(TABLES));
  }
}
