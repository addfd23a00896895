// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import millrace.evidence.Point;
import millrace.evidence.PointState;
import millrace.logbook.Logbook;
import millrace.sim.fault.FaultPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is said before a run, and refused before anything is written. */
class BeforeARunIT {
  private static final String SEQUENCE =
      """
      sequence: hot and cold
      steps:
        - at temperatures: [%s]
          do:
            - in ranges: [1mA]
              do:
                - over loads: {share of compliance: [0 %%, 50 %%]}
      """;

  @TempDir private Path folder;

  private Path sequence(String temperatures) throws IOException {
    return Files.writeString(folder.resolve("s.yaml"), SEQUENCE.formatted(temperatures));
  }

  private String preview(String temperatures) throws IOException {
    Spoken said =
        Spoken.done(
            "preview",
            sequence(temperatures).toString(),
            "--simulated",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--logbook",
            folder.resolve("night.db").toString());
    return said.out();
  }

  @Test
  void aPreviewSaysWhatTheLogbookWillTakeAndThatTheColdComesFirst() throws IOException {
    String cold = preview("23 degC, 5 degC, 40 degC");
    assertTrue(cold.matches("(?s).*The logbook takes about \\d+ kB; .*"), cold);
    assertTrue(cold.contains("the first temperature away from the room's is cold, 5 degC"), cold);
    assertTrue(!cold.contains("the last temperature is"), cold);
  }

  @Test
  void aPreviewSaysThatANightEndsCold() throws IOException {
    String cold = preview("23 degC, 40 degC, 5 degC");
    assertTrue(cold.contains("the last temperature is 5 degC"), cold);
    assertTrue(!cold.contains("is cold, 5 degC"), cold);
  }

  /** A logbook without a run is nothing but a question for whoever finds it. */
  @Test
  void anotherInstrumentIsRefusedBeforeALogbookIsMade() throws IOException {
    Path logbook = folder.resolve("night.db");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite("  ammeter:\n", "  ammeter:\n    identity: ',VM-1,'\n");
      Spoken said =
          Spoken.by(
              "run",
              sequence("23 degC").toString(),
              "--unit",
              "FX3-00042",
              "--datasheet",
              "examples/fx-3.datasheet.yaml",
              "--bench",
              served.file(),
              "--speed",
              Integer.toString(Served.SPEED),
              "--logbook",
              logbook.toString());
      assertEquals(3, said.code(), said.err());
      assertTrue(said.err().contains("expected one that matches ',VM-1,'."), said.err());
      assertTrue(said.err().contains("Swapped cables are the commonest slip"), said.err());
    }
    assertTrue(Files.notExists(logbook), "an empty logbook was made");
  }

  @Test
  void anOverdueInstrumentIsRefusedBeforeALogbookIsMade() throws IOException {
    Path sheet = folder.resolve("strict.datasheet.yaml");
    String text = Files.readString(Path.of("examples/fx-3.datasheet.yaml"));
    Files.writeString(
        sheet, text.replaceFirst("(?m)^overdue instruments:.*$", "overdue instruments: refuse"));
    Path logbook = folder.resolve("night.db");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite("due: 2999-03-02", "due: 2020-03-02");
      Spoken said =
          Spoken.by(
              "run",
              sequence("23 degC").toString(),
              "--unit",
              "FX3-00042",
              "--datasheet",
              sheet.toString(),
              "--bench",
              served.file(),
              "--speed",
              Integer.toString(Served.SPEED),
              "--logbook",
              logbook.toString());
      assertEquals(2, said.code(), said.err());
      assertTrue(said.err().contains("is past its calibration date: due 2020-03-02"), said.err());
    }
    assertTrue(Files.notExists(logbook), "an empty logbook was made");
  }

  @Test
  void whoMustBeWarmIsToldAndHowLongTheyHaveBeenOnIsAsked() throws IOException {
    Path quick = Files.writeString(folder.resolve("q.yaml"), QUICK);
    Path sheet = folder.resolve("warm.datasheet.yaml");
    String text = Files.readString(Path.of("examples/fx-3.datasheet.yaml"));
    Files.writeString(sheet, text.replaceFirst("(?m)^ranges:", "warm-up: 30 min\nranges:"));
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite("    driver: scpi meter\n", "    driver: scpi meter\n    warm-up: 200 h\n");
      String[] files = {"--datasheet", sheet.toString(), "--bench", served.file()};
      Spoken before = Spoken.by(words("preview", quick, files));
      assertTrue(
          before.out().contains("Switch on in time: the unit needs 30.0 min, 'ammeter' needs"),
          before.out() + before.err());
      assertEquals("taken before the warm-up was over", ran("since noon\n5 h\n", quick, files));
      assertEquals("complete", ran("300 h\n", quick, files));
      assertEquals("taken before the warm-up was over", ran("", quick, files));
    }
  }

  private static final String QUICK =
      """
      sequence: one point
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - over loads: {share of compliance: [50 %]}
              sweep: up
      """;

  private static String[] words(String command, Path sequence, String... more) {
    return Stream.concat(Stream.of(command, sequence.toString()), Arrays.stream(more))
        .toArray(String[]::new);
  }

  /** What became of the one point of a run that was begun with this answer. */
  private String ran(String typed, Path sequence, String... files) throws IOException {
    Path logbook = folder.resolve("warm.db");
    Files.deleteIfExists(logbook);
    List<String> all = new ArrayList<>(List.of(words("run", sequence, files)));
    all.addAll(List.of("--unit", "FX3-00042", "--speed", Integer.toString(Served.SPEED)));
    all.addAll(List.of("--logbook", logbook.toString()));
    Spoken said = Spoken.typing(typed, all.toArray(String[]::new));
    assertTrue(said.err().contains("For how long have all of them been switched on"), said.err());
    try (Logbook book = Logbook.readOnly(logbook)) {
      Point point = book.reader(1).points().get(0);
      return point.state() == PointState.COMPLETE ? "complete" : point.reason().split(":", 2)[0];
    }
  }
}
