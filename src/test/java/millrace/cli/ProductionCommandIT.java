// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunFacts;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;
import millrace.terminal.Console;
import millrace.terminal.Consoles;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Operators at work: the command through its streams, the simulated bench in virtual time. */
@Timeout(600)
class ProductionCommandIT {
  private static final String SHEET = "examples/fx-3.datasheet.yaml";
  private static final String PRACTICE = "PRACTICE - SIMULATED BENCH";

  @TempDir Path folder;

  /** What one session came to. */
  private record Session(int code, String out, String err) {
    long screens(String sentence) {
      return out.lines().filter(l -> l.contains(sentence)).count();
    }
  }

  private Session session(List<String> scans, String... more) {
    return session("sequences/production-board-test.yaml", scans, more);
  }

  private Session session(String sequence, List<String> scans, String... more) {
    return session(false, sequence, scans, more);
  }

  private Session session(boolean watched, String sequence, List<String> scans, String... more) {
    List<String> words =
        new ArrayList<>(
            List.of(
                "production",
                sequence,
                "--datasheet",
                SHEET,
                "--operator",
                "Ada",
                "--shift",
                "early",
                "--logbook",
                book().toString()));
    words.addAll(List.of(more));
    String typed = String.join("\n", scans) + "\n";
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    Console console =
        Consoles.of(
            new ByteArrayInputStream(typed.getBytes(UTF_8)),
            new PrintStream(out, false, UTF_8),
            new PrintStream(err, false, UTF_8),
            watched);
    int code = Main.run(words.toArray(String[]::new), console);
    return new Session(code, out.toString(UTF_8), err.toString(UTF_8));
  }

  private Path book() {
    return folder.resolve("a.db");
  }

  private List<RunSummary> runs() {
    try (Logbook book = Logbook.readOnly(book())) {
      return book.runs(RunFilter.ALL);
    }
  }

  private Optional<Conformity> judged(long run) {
    try (Logbook book = Logbook.readOnly(book())) {
      RunReader reader = book.reader(run);
      List<RunEvaluation> evaluations = reader.evaluations();
      return evaluations.isEmpty()
          ? Optional.empty()
          : Result.together(reader.resultsAlone(evaluations.get(0)));
    }
  }

  private static String serial(int number) {
    return NumberText.format("FX3-%05d", number);
  }

  /** Garbage from the meter in the third board: a loose plug. */
  private Path faults() throws IOException {
    return Files.writeString(
        folder.resolve("faults.yaml"),
        "faults:\n  - {kind: not a number, on: ammeter, after: 180 s, times: 1}\n"
            + "  - {kind: reset, on: ammeter, after: 185 s, times: 3}\n");
  }

  @Test
  void thirtyScansOfAShiftEndInTheLogbookAsTheyShould() throws IOException {
    List<String> scans = new ArrayList<>();
    for (int i = 1; i <= 6; i++) {
      scans.add(serial(i));
    }
    scans.add(serial(3));
    scans.add("the plug was loose");
    scans.add(serial(1));
    scans.add("");
    scans.add(serial(1));
    scans.add(serial(7));
    scans.add(serial(1));
    scans.add("adapter exchanged");
    scans.add(serial(1));
    scans.add("resoldered R5");
    scans.add(serial(1));
    scans.addAll(List.of("FX4-00001", "\u0002" + serial(8) + "\t", "  ", "0x17", "FX3-1"));
    for (int i = 9; i <= 14; i++) {
      scans.add(serial(i));
    }
    scans.add("end");
    Session shift = session(scans, "--simulated", "--faults", faults().toString());

    assertEquals(1, shift.code(), shift.out() + shift.err());
    List<RunSummary> runs = runs();
    TreeSet<String> units = new TreeSet<>();
    runs.forEach(r -> units.add(r.start().unit()));
    TreeSet<String> expected = new TreeSet<>();
    for (int i = 1; i <= 14; i++) {
      expected.add(serial(i));
    }
    expected.remove(serial(7));
    assertEquals(expected, units);
    notEmpty(runs).forEach(ProductionCommandIT::assertPractised);
    assertTestsOfTheBadBoard(runs);
    assertTestsOfTheBrokenOffBoard(runs, shift);
    assertScreens(runs, shift);
  }

  private static void assertPractised(RunSummary run) {
    assertEquals(RunOrigin.SIMULATED, run.start().origin());
    assertEquals(Optional.of("Ada"), run.start().people().operator());
    assertEquals(Optional.empty(), run.start().people().batch());
    RunFacts facts = run.start().facts();
    assertEquals("early", facts.stored().get("shift"));
    assertEquals("board", facts.purpose().orElseThrow().text());
    assertEquals("FX-3 probe exciter", facts.kind().orElseThrow());
    assertEquals(Optional.of(1L), run.setUp());
  }

  private static List<RunSummary> of(List<RunSummary> runs, String serial) {
    return runs.stream().filter(r -> r.start().unit().equals(serial)).toList();
  }

  private static List<String> facts(List<RunSummary> runs, String name) {
    return runs.stream().map(r -> r.start().facts().stored().getOrDefault(name, "-")).toList();
  }

  /** Its range resistor of 1 uA is drawn some 900 ppm off. */
  private void assertTestsOfTheBadBoard(List<RunSummary> runs) {
    List<RunSummary> tests = of(runs, serial(1));
    assertEquals(List.of("1", "2", "3"), facts(tests, "attempt"));
    assertEquals(List.of("-", "adapter exchanged", "resoldered R5"), facts(tests, "retest cause"));
    notEmpty(tests).forEach(t -> assertEquals(Optional.of(Conformity.FAIL), judged(t.id())));
  }

  private void assertTestsOfTheBrokenOffBoard(List<RunSummary> runs, Session shift) {
    List<RunSummary> tests = of(runs, serial(3));
    assertEquals(2, tests.size());
    assertFalse(tests.get(0).state() == RunState.COMPLETE);
    assertEquals(Optional.empty(), judged(tests.get(0).id()));
    assertEquals(RunState.COMPLETE, tests.get(1).state());
    assertEquals(
        List.of("-", "the test before was broken off (run %s)".formatted(tests.get(0).id())),
        facts(tests, "retest cause"));
    assertEquals(1, shift.screens(serial(3) + ": ABORTED"));
    assertTrue(shift.out().contains("'ammeter'"), "the instrument is not named");
  }

  private void assertScreens(List<RunSummary> runs, Session shift) {
    for (RunSummary run : notEmpty(runs)) {
      boolean passed = judged(run.id()).equals(Optional.of(Conformity.PASS));
      String sentence = "%s: %s (run %s)".formatted(run.start().unit(), "PASS", run.id());
      assertEquals(passed ? 1 : 0, shift.screens(sentence), sentence);
    }
    assertEquals(3, shift.screens(serial(1) + ": FAIL"));
    assertTrue(shift.out().contains("current error of 1uA"));
    assertTrue(shift.out().contains(" ppm beyond its limit\n    12."), shift.out());
    assertTrue(shift.out().contains("Look at: range resistor R5 high by 9"), shift.out());
    assertEquals(2, shift.screens("a retest needs a recorded cause, and none was given"));
    assertEquals(1, shift.screens("its 2 allowed retests are used up"));
    assertEquals(1, shift.screens("FX4-00001: it is no serial number of the kind FX-3"));
    assertEquals(1, shift.screens("FX3-1: it is no serial number"));
    assertTrue(shift.out().contains("End of practice."));
    assertEveryScreenSaysPractice(shift.out());
  }

  /** Screens are set off by a rule; the line below the first of each pair names the practice. */
  private static void assertEveryScreenSaysPractice(String out) {
    List<String> lines = out.lines().toList();
    for (int i = 1; i < lines.size(); i++) {
      if (lines.get(i).startsWith("====") && lines.get(i - 1).isBlank()) {
        assertTrue(lines.get(i + 1).startsWith(PRACTICE), "line " + i + " of the screens");
      }
    }
    assertTrue(lines.stream().filter(l -> l.startsWith(PRACTICE)).count() > 20);
  }

  @Test
  void nothingIsTestedUntilTheReferenceUnitWasAndAgainWhenACheckIsDue() {
    List<String> scans =
        List.of(
            serial(20),
            serial(99),
            serial(20),
            serial(21),
            serial(22),
            serial(99),
            "setup",
            "fixture 2",
            "",
            serial(22),
            serial(99),
            serial(22),
            "end");
    Session shift = session(scans, "--simulated", "--reference", serial(99), "--check-every", "2");
    List<RunSummary> runs = runs();
    assertEquals(
        List.of(99, 20, 21, 99, 99, 22).stream().map(ProductionCommandIT::serial).toList(),
        runs.stream().map(r -> r.start().unit()).toList());
    assertEquals(
        List.of("self-check", "board", "board", "self-check", "self-check", "board"),
        facts(runs, "production"));
    assertEquals(
        List.of(1L, 1L, 1L, 1L, 2L, 2L), runs.stream().map(r -> r.setUp().orElse(0L)).toList());
    assertEquals(2, shift.screens("No board is tested: the bench was not checked yet"));
    assertEquals(2, shift.screens("2 tested boards since the last check: the next is due."));
    assertEquals(2, shift.screens("No board is tested: fixture or cables changed."));
    assertEquals(3, shift.screens("Self-check with " + serial(99) + ": good."));
  }

  @Test
  void theSequenceMaySayWhichUnitChecksTheBenchAndHowOften() throws IOException {
    Path parts = Files.createDirectory(folder.resolve("parts"));
    Files.copy(Path.of("sequences/parts/board.yaml"), parts.resolve("board.yaml"));
    String shipped = Files.readString(Path.of("sequences/production-board-test.yaml"));
    Path checked =
        Files.writeString(
            folder.resolve("checked.yaml"),
            shipped.replace(
                "self-check: {every: 50}",
                "self-check: {reference unit: %s, every: 1}".formatted(serial(99))));
    Session shift =
        session(
            checked.toString(),
            List.of(serial(20), serial(99), serial(20), serial(21), "end"),
            "--simulated");
    assertEquals(2, shift.screens("No board is tested: the bench was not checked yet"));
    assertEquals(2, shift.screens("1 tested board since the last check: the next is due."));
    assertEquals(List.of("self-check", "board"), facts(runs(), "production"));
  }

  @Test
  void whatWasPractisedBeforeIsForgottenAndNeverMetByTheNextPractice() {
    assertEquals(1, session(List.of(serial(1), "end"), "--simulated").code());
    Session again = session(List.of(serial(1), "end"), "--simulated", "--batch", "B7");
    assertEquals(1, again.screens(serial(1) + ": FAIL (run 2)"));
    assertEquals(0, again.screens("already tested"));
    assertTrue(again.err().contains("--batch is left out"));
    assertEquals(Optional.empty(), runs().get(1).start().people().batch());
  }

  @Test
  void aSequenceMayEndABoardAtItsFirstFail() throws IOException {
    Path parts = Files.createDirectory(folder.resolve("parts"));
    Files.copy(Path.of("sequences/parts/board.yaml"), parts.resolve("board.yaml"));
    String shipped = Files.readString(Path.of("sequences/production-board-test.yaml"));
    Path stops =
        Files.writeString(
            folder.resolve("stops.yaml"), shipped.replace("first fail: go on", "first fail: stop"));
    Session shift = session(stops.toString(), List.of(serial(1), "end"), "--simulated");
    assertEquals(1, shift.code());
    assertEquals(1, shift.screens(serial(1) + ": FAIL (run 1)"));
    try (Logbook book = Logbook.readOnly(book())) {
      RunReader run = book.reader(1);
      assertEquals(RunState.COMPLETE, run.summary().state());
      long left =
          run.points().stream()
              .filter(
                  p ->
                      p.reason()
                          .equals(
                              "not measured: ended early because current error of 1uA is outside"
                                  + " its limit"))
              .count();
      // Four ranges of thirteen points and a zero each.
      assertEquals(56, left);
    }
  }

  private static final String TWICE =
      """
      sequence: two passes
      compute: [current_error, load_regulation, compliance_voltage]
      readings: {count: 5, line cycles: 2, voltage: 1}
      settle: {wait: 0 s, within: 5 ppm, at most: 5 s}
      early end: {consumer risk: 0.1 %, producer risk: 1 %, again for: [load_regulation]}
      steps:
        - in slots: all
          do:
            - in ranges: ['1uA', '1mA']
              do:
                - zero
                - over loads: {share of compliance: [0 %, 80 %, 40 %, 80 %, 0 %, 90 %, 100.1 %, 108 %]}
                  sweep: as listed
            - in ranges: ['1uA', '1mA']
              do:
                - over loads: {share of compliance: [0 %, 80 %, 40 %, 80 %, 0 %]}
                  sweep: as listed
            - in ranges: ['10uA', '100uA', '10mA']
              do:
                - over loads: {share of compliance: [0 %]}
      """;

  /** A limit that is not measured at all keeps a board from passing, early or not. */
  @Test
  void anEarlyEndNeverPassesWhatWasNotMeasured() throws IOException {
    Path sequence = Files.writeString(folder.resolve("twice.yaml"), TWICE);
    Session shift = session(sequence.toString(), List.of(serial(2), "end"), "--simulated");
    assertEquals(7, shift.code(), shift.out());
    assertEquals(1, shift.screens(serial(2) + ": NOT JUDGED (run 1)"));
  }

  @Test
  void whatWasNotMeasuredIsSaidInVerdictSheetAndReport() throws IOException {
    Path sequence =
        Files.writeString(
            folder.resolve("twice.yaml"),
            TWICE.substring(0, TWICE.indexOf("      - in ranges: ['10uA'")));
    Path sheet = Files.writeString(folder.resolve("two.datasheet.yaml"), twoRanges());
    Spoken shift =
        Spoken.typing(
            serial(1) + "\n" + serial(2) + "\nend\n",
            "production",
            sequence.toString(),
            "--datasheet",
            sheet.toString(),
            "--simulated",
            "--operator",
            "Ada",
            "--shift",
            "early",
            "--logbook",
            book().toString());
    assertTrue(shift.out().contains(serial(1) + ": FAIL (run 1)"), shift.out());
    assertTrue(shift.out().contains(serial(2) + ": PASS (run 2)"), shift.out());
    assertTrue(shift.out().contains("points not measured: ended early because"), shift.out());
    String failed = "not measured: ended early because current error of 1uA is outside its limit";
    String passed = "not measured: ended early because every limit";
    told(1, failed);
    told(2, passed);
    try (Logbook book = Logbook.readOnly(book())) {
      assertTrue(
          book.reader(1).points().stream()
              .noneMatch(
                  p -> p.conditions().range().equals(Optional.of("1mA")) && p.reason().isEmpty()),
          "1mA was measured though 1uA had failed");
    }
  }

  /** The shipped datasheet with two of its ranges. */
  private static String twoRanges() throws IOException {
    String shipped = Files.readString(Path.of(SHEET));
    int ranges = shipped.indexOf("\nranges:\n") + 1;
    int limits = shipped.indexOf("\n# Each limit says") + 1;
    StringBuilder two = new StringBuilder(shipped.substring(0, ranges)).append("ranges:\n");
    for (String one : shipped.substring(ranges + 8, limits).split("(?m)^(?=  \\S+:$)")) {
      if (one.startsWith("  1uA:") || one.startsWith("  1mA:")) {
        two.append(one);
      }
    }
    return two.append("limits:\n")
        .append("  - {quantity: current_error, range: all, lower: -240 ppm, upper: 240 ppm,\n")
        .append("     when: {terminal voltage: [0 V, 10 V]}}\n")
        .append("  - {quantity: load_regulation, range: all, lower: -12 ppm/V, upper: 12 ppm/V}\n")
        .append("  - {quantity: compliance_voltage, range: all, lower: 13.5 V}\n")
        .toString();
  }

  private void told(int run, String words) throws IOException {
    Path page = folder.resolve("page-" + run + ".html");
    List<List<String>> commands =
        List.of(
            List.of("analyze", "" + run),
            List.of("report", "" + run, "--sheet", "-o", page.toString()),
            List.of("report", "" + run, "-o", page.toString()));
    for (List<String> command : commands) {
      List<String> all = new ArrayList<>(command);
      all.addAll(List.of("--logbook", book().toString()));
      Spoken spoken = Spoken.by(all.toArray(String[]::new));
      String text =
          command.get(0).equals("report")
              ? Files.readString(page).replaceAll("<[^>]*>", "")
              : spoken.out();
      assertTrue(text.replaceAll("\\s+", " ").contains(words), command + ": " + spoken.out());
    }
  }

  /** Tones and shapes reach the terminal as such; what was scanned cannot command it. */
  @Test
  void outcomesAreTonedOnATerminalAndScansAreNot() {
    Session shift =
        session(
            true,
            "sequences/production-board-test.yaml",
            List.of("FX3\u001b[2J", serial(2), "end"),
            "--simulated");
    assertTrue(shift.out().contains("\u001b[1;97;48;5;25m"), "no blue behind PASS");
    assertTrue(shift.out().contains("\u001b[1;30;48;5;227m"), "no yellow behind REFUSED");
    assertFalse(shift.out().contains("\\u001b[1;"), "a tone is spelt out");
    assertFalse(shift.out().contains("\u001b[2J"), "a scan clears the screen");
  }

  @Test
  void theEndOfTheInputEndsTheSession() {
    Session shift = session(List.of("no such serial"), "--simulated");
    assertEquals(0, shift.code());
    assertEquals(1, shift.screens("0 of 0 units passed at the first test"));
    assertEquals(List.of(), runs());
  }

  @Test
  void whatTheCommandNeedsIsSaidBeforeAnythingIsTouched() {
    assertEquals(2, session(List.of()).code());
    Session faults = session(List.of(), "--bench", "no.yaml", "--faults", "f.yaml");
    assertEquals(2, faults.code());
    assertTrue(faults.err().contains("--faults goes with --simulated"), faults.err());
    Session kind = session(List.of(), "--simulated", "--reference", "X1");
    assertEquals(2, kind.code());
    Session never = session(List.of(), "--simulated", "--check-every", "0");
    assertTrue(never.err().contains("--check-every 0; expected 1 or more"), never.err());
    String store = "jdbc:postgresql://h/d?user=bench_1";
    Session alone = session(List.of(), "--simulated", "--from", store);
    assertEquals(2, alone.code());
    assertTrue(alone.err().contains("--from goes with --batch NAME"), alone.err());
    Session told =
        session(
            List.of(), "--bench", "no.yaml", "--batch", "B7", "--from", store + "&password=pear");
    assertEquals(2, told.code());
    assertTrue(told.err().contains("there is a password in it"), told.err());
    assertFalse(told.err().contains("pear"), told.err());
    assertFalse(Files.exists(book()));
  }

  @Test
  void whatIsPractisedIsHeldAgainstNoRealUnits() {
    Session practice =
        session(
            List.of(serial(2), "end"),
            "--simulated",
            "--batch",
            "B7",
            "--from",
            "jdbc:postgresql://127.0.0.1:1/d?user=bench_1");
    assertTrue(
        practice
            .err()
            .contains("--from is left out: what is practised is not held against real units."),
        practice.err());
    assertFalse(practice.out().contains("store"), practice.out());
  }

  @Test
  void aTestThatWasBrokenOffIsNotResumed() throws IOException {
    session(
        List.of(serial(1), serial(2), serial(3)), "--simulated", "--faults", faults().toString());
    RunSummary broken =
        runs().stream().filter(r -> r.state() != RunState.COMPLETE).findFirst().orElseThrow();
    assertTrue(
        Duration.between(broken.start().startedAt(), runs().get(0).start().startedAt())
            .isNegative());
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    Console console =
        Consoles.of(
            new ByteArrayInputStream(new byte[0]),
            new PrintStream(new ByteArrayOutputStream(), false, UTF_8),
            new PrintStream(err, false, UTF_8),
            false);
    String[] words = {"run", "--resume", "" + broken.id(), "--logbook", book().toString()};
    assertEquals(2, Main.run(words, console));
    assertTrue(err.toString(UTF_8).contains("Scan the board again"), err.toString(UTF_8));
  }
}
