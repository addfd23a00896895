// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.MillraceException;
import millrace.fault.TrialLapFailedException;
import millrace.fault.UnsafeBenchException;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.Logbook;
import millrace.logbook.ProductionRunPurpose;

/**
 * The production loop: scan, admit, test, show, next; until the input ends or the word {@value
 * #END} comes. A test that an instrument or an interlock aborts is shown as aborted and the loop
 * goes on; every other error ends it. Single-threaded.
 */
public final class ProductionLoop {
  /** Ends the session. */
  public static final String END = "end";

  /** States that fixture or cables were changed. */
  public static final String SET_UP = "setup";

  /** Tests the filled slots although some are empty. */
  public static final String GO = "go";

  /** Lists the words that can be scanned or typed. */
  public static final String HELP = "help";

  private static final String SHORT_HELP = "?";
  private static final String PROMPT = "Scan a board, or '%s':".formatted(END);
  private static final int SHORTEST_CAUSE = 3;

  /** The usual causes of a retest, by their numbers from 1 (common practice, no source). */
  private static final List<String> CAUSES =
      List.of(
          "bad contact, plugged in again",
          "wrong fixture, cable or slot",
          "the bench was out",
          "the board was repaired",
          "the result is doubted");

  private final ProductionRules rules;
  private final OperatorStation station;
  private final BoardTest test;
  private final BoardAdmission boardAdmission;
  private final Optional<BenchSelfCheckHistory> checks;
  private final SelfCheckDue lock;
  private final ProductionSessionCounter productionSessionCounter = new ProductionSessionCounter();
  private FixtureSetUp setUp;

  /**
   * Creates a loop.
   *
   * @param rules its rules
   * @param book the logbook of earlier tests
   * @param station the operator's place
   * @param test tests a board
   * @param setUp how boards are connected at first
   */
  public ProductionLoop(
      ProductionRules rules,
      Logbook book,
      OperatorStation station,
      BoardTest test,
      FixtureSetUp setUp) {
    BoardTestHistory history = new BoardTestHistory(book, rules);
    this.rules = rules;
    this.station = station;
    this.test = test;
    this.setUp = setUp;
    this.boardAdmission = new BoardAdmission(rules, history);
    this.lock = new SelfCheckDue(rules.selfCheck());
    this.checks =
        rules.selfCheck().map(c -> new BenchSelfCheckHistory(book, history, c.reference()));
  }

  /**
   * Runs until the session ends.
   *
   * @return the summary of the session
   * @throws MillraceException if the bench may not be safe, the logbook failed, a signal came or
   *     the files do not match
   */
  public ProductionSummary work() {
    lock.now().ifPresent(station::show);
    Optional<String> scan = scanNext();
    while (scan.isPresent() && !word(scan.get(), END)) {
      scanned(scan.get());
      scan = scanNext();
    }
    return productionSessionCounter.summary();
  }

  private Optional<String> scanNext() {
    List<String> news = test.news();
    if (!news.isEmpty()) {
      station.show(new OperatorScreen.Message("BATCH", news));
    }
    return station.scan(PROMPT);
  }

  /**
   * The summary so far, for a session that ends early.
   *
   * @return the summary
   */
  public ProductionSummary soFar() {
    return productionSessionCounter.summary();
  }

  /**
   * A command word counts as such unless it matches the pattern of serial numbers. Some bar codes
   * have no lower case.
   */
  private boolean word(String scan, String word) {
    return scan.equalsIgnoreCase(word) && !serial(scan);
  }

  private boolean anyWord(String answer) {
    return Stream.of(END, SET_UP, GO, HELP, SHORT_HELP).anyMatch(w -> word(answer, w));
  }

  private boolean serial(String scan) {
    return rules.sheet().serial().filter(p -> p.matcher(scan).matches()).isPresent();
  }

  private void scanned(String scan) {
    if (scan.isEmpty()) {
      return;
    }
    if (word(scan, HELP) || word(scan, SHORT_HELP)) {
      station.show(new OperatorScreen.Message("HELP", help()));
    } else if (word(scan, SET_UP)) {
      changeSetUp();
    } else if (rules.reference(scan)) {
      check(scan);
    } else if (lock.now().isPresent()) {
      productionSessionCounter.refused();
      station.show(lock.now().get());
    } else if (rules.slots().size() > 1) {
      several(scan);
    } else {
      admitted(scan).ifPresent(a -> board(scan, a, Optional.empty()));
    }
  }

  /** The command words in place of a board. */
  private List<String> help() {
    List<String> lines = new ArrayList<>();
    lines.add("Scan or type the serial number of a board: it is tested, and the outcome shown.");
    rules
        .selfCheck()
        .ifPresent(c -> lines.add("%s  checks the bench with it".formatted(c.reference())));
    lines.add("%s  ends the session".formatted(END));
    lines.add("%s  another fixture or cable set is used from here on".formatted(SET_UP));
    if (rules.slots().size() > 1) {
      lines.add("%s  tests though slots are empty".formatted(GO));
    }
    lines.add("Ctrl-C  stops at once and makes the bench safe");
    return lines;
  }

  private Optional<BoardAdmission.Admitted> admitted(String serial) {
    BoardAdmission.Answer answer = boardAdmission.of(serial);
    answer.refusal().ifPresent(this::refuse);
    return answer.admitted().flatMap(a -> explained(serial, a));
  }

  private void refuse(OperatorScreen.Refused refusal) {
    productionSessionCounter.refused();
    station.show(refusal);
  }

  private void refuse(String scan, String reason, String remedy) {
    refuse(new OperatorScreen.Refused(scan, reason, remedy));
  }

  private Optional<BoardAdmission.Admitted> explained(
      String serial, BoardAdmission.Admitted admitted) {
    if (admitted.counting().isEmpty()) {
      return Optional.of(admitted);
    }
    List<String> lines = new ArrayList<>(List.of(admitted.counting().get()));
    lines.add("Why is it tested again?");
    for (int i = 0; i < CAUSES.size(); i++) {
      lines.add("  %s  %s".formatted(i + 1, CAUSES.get(i)));
    }
    station.show(new OperatorScreen.Message("TESTED BEFORE", lines));
    String cause =
        station
            .scan("Number of the cause, or another in words; nothing leaves it:")
            .map(ProductionLoop::cause)
            .orElse("");
    if (!says(cause)) {
      refuse(
          serial,
          "a retest needs a recorded cause, and none was given.",
          "Put it aside, or scan it again and say why it is tested again.");
      return Optional.empty();
    }
    return Optional.of(admitted.because(cause));
  }

  /** Translates a number into its cause; returns other answers unchanged. */
  private static String cause(String answer) {
    for (int i = 0; i < CAUSES.size(); i++) {
      if (answer.equals(Integer.toString(i + 1))) {
        return CAUSES.get(i);
      }
    }
    return answer;
  }

  /** Whether an answer is a reason: a bar code of the bench or of a board is none. */
  private boolean says(String answer) {
    return answer.length() >= SHORTEST_CAUSE && !label(answer);
  }

  private boolean label(String answer) {
    return serial(answer) || anyWord(answer) || rules.slots().contains(answer);
  }

  private void board(String serial, BoardAdmission.Admitted admitted, Optional<String> slot) {
    BoardTestJob board =
        new BoardTestJob(
            serial, ProductionRunPurpose.BOARD, admitted.attempt(), admitted.cause(), slot, setUp);
    BoardResult result = attempt(board);
    productionSessionCounter.tested(result.outcome(), admitted.first().isPresent());
    if (result.outcome().ended()) {
      lock.tested(result.run());
    }
    station.show(
        new OperatorScreen.Tested(
            board, result, admitted.first(), productionSessionCounter.tally()));
    lock.now().ifPresent(station::show);
  }

  private BoardResult attempt(BoardTestJob board) {
    station.show(new OperatorScreen.Testing(board));
    try {
      return test.test(board);
    } catch (InstrumentException e) {
      return brokenOff(e);
    } catch (InterlockException e) {
      lock.because("an interlock stopped the last test.");
      return brokenOff(e);
    } catch (TrialLapFailedException e) {
      lock.because("the trial lap stopped the last test.");
      return brokenOff(e);
    }
  }

  private static BoardResult brokenOff(MillraceException e) {
    boolean unsafe =
        Arrays.stream(e.getSuppressed()).anyMatch(UnsafeBenchException.class::isInstance);
    if (unsafe) {
      throw e;
    }
    return BoardResult.aborted(e.getMessage());
  }

  private void check(String reference) {
    BenchSelfCheckHistory known = checks.orElseThrow();
    Optional<String> slot = Optional.empty();
    if (rules.slots().size() > 1) {
      slot = station.scan("Scan the slot that the reference unit sits in:");
      if (slot.filter(rules.slots()::contains).isEmpty()) {
        refuse(reference, "no slot of this bench was scanned.", "Scan the reference unit again.");
        return;
      }
    }
    Optional<Long> out = known.lastOneOut();
    Optional<String> done =
        out.flatMap(
            run ->
                station.scan("The check in run %s failed. What was done about it?".formatted(run)));
    if (out.isPresent() && done.filter(this::says).isEmpty()) {
      refuse(reference, "what was done about the failed check was not said.", "Scan it again.");
      return;
    }
    BoardTestJob board =
        new BoardTestJob(reference, ProductionRunPurpose.CHECK, 1, done, slot, setUp);
    BenchSelfCheck check = known.judge(attempt(board));
    productionSessionCounter.checked(check);
    station.show(new OperatorScreen.Checked(board, check, lock.checked(check)));
    lock.now().ifPresent(station::show);
  }

  private void changeSetUp() {
    Optional<String> fixture =
        station.scan("Scan the fixture (nothing: %s):".formatted(setUp.fixture()));
    Optional<String> cables =
        station.scan("Scan the cable set (nothing: %s):".formatted(setUp.cables()));
    Optional<String> wrong =
        Stream.of(fixture, cables).flatMap(Optional::stream).filter(this::label).findFirst();
    if (wrong.isPresent()) {
      refuse(
          wrong.get(),
          "it is neither a fixture nor a cable set.",
          "The set-up stays as it was; scan 'setup' again.");
      return;
    }
    FixtureSetUp now =
        new FixtureSetUp(
            fixture.filter(f -> !f.isEmpty()).orElse(setUp.fixture()),
            cables.filter(c -> !c.isEmpty()).orElse(setUp.cables()),
            setUp.remark());
    if (now.equals(setUp)) {
      station.show(
          new OperatorScreen.Message("SET-UP", List.of("The set-up is the same as before.")));
      return;
    }
    setUp = now;
    lock.because("fixture or cables changed.");
    station.show(
        new OperatorScreen.Message(
            "NEW SET-UP",
            List.of(
                "Fixture %s, cable set %s: runs from here on carry its own set-up number."
                    .formatted(now.fixture(), now.cables()))));
    lock.now().ifPresent(station::show);
  }

  /** A board and the facts about it before its test. */
  private record Waiting(String serial, BoardAdmission.Admitted admitted) {}

  private void several(String first) {
    SlotMap map = new SlotMap(rules.slots());
    List<Waiting> waiting = new ArrayList<>();
    Optional<String> scan = Optional.of(first);
    while (scan.isPresent() && !word(scan.get(), GO)) {
      String serial = scan.get();
      if (map.holds(serial)) {
        refuse(serial, "it sits in another slot already.", "Scan the next board.");
      } else {
        admitted(serial)
            .filter(a -> placed(map, serial))
            .ifPresent(a -> waiting.add(new Waiting(serial, a)));
      }
      scan =
          map.full()
              ? Optional.empty()
              : station.scan("Scan the next board, or '%s':".formatted(GO));
    }
    if (!map.empty() && confirmed(map)) {
      waiting.forEach(w -> board(w.serial(), w.admitted(), slotOf(map, w.serial())));
    }
  }

  private static Optional<String> slotOf(SlotMap map, String serial) {
    return map.filled().stream().filter(s -> map.serial(s).equals(serial)).findFirst();
  }

  private boolean placed(SlotMap map, String serial) {
    Optional<String> slot = station.scan("Put %s in; scan its slot:".formatted(serial));
    Optional<String> trouble =
        slot.isEmpty() ? Optional.of("no slot was scanned.") : map.put(slot.get(), serial);
    trouble.ifPresent(t -> refuse(serial, t, "Scan the board again."));
    return trouble.isEmpty();
  }

  private boolean confirmed(SlotMap map) {
    for (String slot : map.filled()) {
      String again = station.scan("Slot %s: scan its board once more:".formatted(slot)).orElse("");
      if (!again.equals(map.serial(slot))) {
        refuse(
            again,
            "slot %s was to hold %s: the slot map is not confirmed."
                .formatted(slot, map.serial(slot)),
            "Nothing was tested. Look where each board sits and scan all of them again.");
        return false;
      }
    }
    return true;
  }
}
