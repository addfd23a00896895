// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import millrace.terminal.Console;
import millrace.terminal.Consoles;
import millrace.time.Seeds;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/**
 * Values behind options and in cells of readings that nobody sane would give: each is taken or
 * refused in a sentence, and none is a fault of Millrace.
 */
class HostileOptionsIT {
  /** These do not end by themselves, or take a night. */
  private static final Set<String> ENDLESS =
      Set.of("demo", "simulate", "run", "production", "new", "watch");

  private static final List<String> VALUES =
      List.of(
          "",
          " ",
          "0",
          "-1",
          "NaN",
          "Infinity",
          "-Infinity",
          "1e400",
          "1e-400",
          "9999999999999999999999",
          "-9223372036854775808",
          "0x10",
          "1,5",
          "\u0661\u0662",
          "\uff11",
          "\u221e",
          "\u0000",
          "a\u0000b",
          "a\nb",
          "\u202e123",
          "../../../../../../etc/hosts",
          "/dev/null",
          "/dev/zero/x",
          "/proc/self/mem",
          "con:",
          "%s%n%d",
          "${x:-y}",
          "$(id)",
          "';DROP TABLE run;--",
          "--help",
          "-",
          "@file",
          "2026-02-30",
          "2026-13-01",
          "+999999999-12-31",
          "-999999999-01-01",
          "0000-00-00",
          "1 parsec",
          "-1 h",
          "1e300 h",
          "10 kohm",
          "{",
          "[[[[",
          "\ud800",
          "x".repeat(5000));

  private static final List<String> COLUMNS =
      List.of(
          "nominal_A",
          "current_A",
          "temperature_degC",
          "load_ohm",
          "terminal_voltage_V",
          "u_current_A",
          "u_common_A",
          "time_s",
          "taken_at",
          "direction",
          "point",
          "supply_V",
          "set_A");

  @TempDir private Path folder;
  private String book = "";

  @BeforeEach
  void importReadings() {
    book = folder.resolve("a.db").toString();
    Spoken.importExample(book);
  }

  private static Console silent() {
    PrintStream nowhere =
        new PrintStream(OutputStream.nullOutputStream(), true, StandardCharsets.UTF_8);
    return Consoles.of(InputStream.nullInputStream(), nowhere, nowhere, false);
  }

  private static <T> T oneOf(List<T> all, SplittableRandom random) {
    return all.get(random.nextInt(all.size()));
  }

  /** A command with a hostile value behind one or two of its options. */
  private List<String> words(SplittableRandom random) {
    CommandLine all = CommandTable.all(silent());
    List<String> names =
        all.getSubcommands().keySet().stream().filter(n -> !ENDLESS.contains(n)).sorted().toList();
    String name = oneOf(names, random);
    List<String> words = new ArrayList<>(List.of(name));
    CommandLine command = all.getSubcommands().get(name);
    while (!command.getSubcommands().isEmpty()) {
      String below = oneOf(command.getSubcommands().keySet().stream().sorted().toList(), random);
      words.add(below);
      command = command.getSubcommands().get(below);
    }
    for (int i = 0; i < command.getCommandSpec().positionalParameters().size(); i++) {
      words.add(random.nextBoolean() ? "1" : oneOf(VALUES, random));
    }
    List<OptionSpec> options =
        command.getCommandSpec().options().stream().filter(o -> !leftOut(o)).toList();
    for (int i = random.nextInt(3); i >= 0; i--) {
      OptionSpec option = oneOf(options, random);
      words.add(
          option.arity().max() == 0
              ? option.longestName()
              : option.longestName() + "=" + oneOf(VALUES, random));
    }
    if (random.nextBoolean()) {
      words.addAll(List.of("--logbook", book));
    }
    if (name.equals("report")) { // which would write into the folder that one stands in
      words.addAll(List.of("-o", folder.resolve("made").toString()));
    }
    return words;
  }

  /**
   * Nothing is written over by a hostile name outside of the test's folder; and trials take minutes
   * by themselves, without a value that could be hostile.
   */
  private static boolean leftOut(OptionSpec option) {
    String name = option.longestName();
    return Set.of(
            "--monte-carlo",
            "--output",
            "-o",
            "--csv",
            "--pack",
            "--backup",
            "--record",
            "--write",
            "--notify")
        .contains(name);
  }

  /** A file of readings with a hostile cell. */
  private List<String> readings(SplittableRandom random) throws IOException {
    String column = oneOf(COLUMNS, random);
    String header = "range,nominal_A,current_A,temperature_degC," + column + "2";
    String row = "1mA,0.001,0.001,23,0";
    int at = random.nextInt(4);
    String[] cells = row.split(",");
    cells[at] = "\"" + oneOf(VALUES, random).replace("\"", "") + "\"";
    String named = column + "," + "range,nominal_A,current_A";
    String text =
        random.nextBoolean()
            ? header + "\n" + String.join(",", cells) + "\n"
            : named + "\n\"" + oneOf(VALUES, random) + "\",1mA,0.001,0.001\n";
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    Path file = Files.write(folder.resolve("r.csv"), bytes);
    return List.of("import", file.toString(), "--logbook", folder.resolve("b.db").toString());
  }

  private void campaign(int count) throws IOException {
    SplittableRandom random = new Seeds(count).stream("hostile options");
    for (int i = 0; i < count; i++) {
      List<String> words = random.nextInt(4) == 0 ? readings(random) : words(random);
      Spoken said = Spoken.by(words.toArray(String[]::new));
      assertFalse(said.err().contains("fault of Millrace"), () -> words + ": " + said.err());
      assertFalse(said.err().contains("\tat "), () -> words + ": " + said.err());
      assertTrue(said.code() >= 0 && said.code() <= 9, () -> words + ": " + said.code());
    }
    Path out = Files.createDirectories(Path.of("target", "verification"));
    Files.writeString(
        out.resolve("hostile-options-%s.txt".formatted(count)),
        "%s hostile options and cells: each taken or refused in a sentence%n".formatted(count));
  }

  @Test
  @Timeout(300)
  void aFewHundredAreTakenOrRefusedInASentence() throws IOException {
    campaign(300);
  }

  @Test
  @Tag("campaign")
  @Timeout(5400)
  void tenThousandAreTakenOrRefusedInASentence() throws IOException {
    campaign(Integer.getInteger("millrace.hostile", 10_000));
  }
}
