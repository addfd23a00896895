// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.conformity.FailedResult;
import millrace.analysis.conformity.Judge;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule;
import millrace.evidence.Limits;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;

/**
 * A production floor with a real logbook, an operator who scans from a list, and boards whose
 * current error is told beforehand.
 */
final class Floor implements OperatorStation, BoardTest, AutoCloseable {
  static final String REFERENCE = "BX5-9999";
  private static final Instant START = Instant.parse("2026-03-02T06:00:00Z");
  private static final double LIMIT_PPM = 100;

  final List<OperatorScreen> screens = new ArrayList<>();
  final Map<String, Double> errorsPpm = new HashMap<>();
  final Map<String, RuntimeException> troubles = new HashMap<>();
  final List<BoardTestJob> tested = new ArrayList<>();

  private final Logbook book;
  private RunOrigin origin = RunOrigin.BENCH;
  private String kind = "BX5 excitation source";
  private String session = "session 1";
  private Deque<String> scans = new ArrayDeque<>();
  private Runnable atStar = () -> {};
  private int minutes;

  Floor(Path folder) {
    book = Logbook.openOrCreate(folder.resolve("floor.db"));
  }

  Logbook book() {
    return book;
  }

  Floor simulated(String named) {
    origin = RunOrigin.SIMULATED;
    session = named;
    return this;
  }

  Floor testing(String other) {
    kind = other;
    return this;
  }

  Datasheet sheet() {
    String text =
        "datasheet: %s\nserial: 'BX5-[0-9]{4}'\nretests: 1\nranges:\n  1mA: {nominal: 1 mA}\n"
            .formatted(kind);
    return DatasheetFile.read("bx5.yaml", text.getBytes(java.nio.charset.StandardCharsets.UTF_8));
  }

  /** Works through scans on a bench with one place, a check due after so many boards. */
  ProductionSummary work(int every, String... all) {
    return work(every, List.of("1"), all);
  }

  ProductionSummary work(int every, List<String> slots, String... all) {
    scans = new ArrayDeque<>(List.of(all));
    screens.clear();
    ProductionRules rules =
        new ProductionRules(
            sheet(),
            session,
            origin == RunOrigin.SIMULATED,
            Optional.of(new ProductionRules.SelfCheck(REFERENCE, every)),
            slots);
    return new ProductionLoop(
            rules, book, this, this, new FixtureSetUp("fixture 1", "cables 1", ""))
        .work();
  }

  /** Works through scans; where a star stands something happens. */
  ProductionSummary scansThen(Runnable happening, int every, String... all) {
    atStar = happening;
    return work(every, all);
  }

  @Override
  public Optional<String> scan(String prompt) {
    if ("*".equals(scans.peek())) {
      scans.poll();
      atStar.run();
    }
    return Optional.ofNullable(scans.poll());
  }

  @Override
  public void show(OperatorScreen screen) {
    screens.add(screen);
  }

  <S extends OperatorScreen> List<S> shown(Class<S> kindOfScreen) {
    return screens.stream().filter(kindOfScreen::isInstance).map(kindOfScreen::cast).toList();
  }

  @Override
  public BoardResult test(BoardTestJob board) {
    minutes++;
    RunFacts facts = board.facts().inSession("day", session, kind);
    try (RunWriter writer = book.begin(start(board, facts))) {
      writer.setUp(board.setUp());
      RuntimeException trouble = troubles.remove(board.serial());
      if (trouble != null) {
        throw trouble;
      }
      tested.add(board);
      writer.end(RunState.COMPLETE, "", START.plus(Duration.ofMinutes(minutes)));
      List<Result> results = List.of(result(errorsPpm.getOrDefault(board.serial(), 0.0)));
      book.save(
          writer.run(),
          new RunEvaluation(
              "b",
              START,
              "0.1.0",
              Optional.empty(),
              OptionalDouble.empty(),
              List.of(),
              Optional.empty(),
              Optional.empty(),
              "test"),
          results);
      return new BoardResult(
          writer.run(),
          BoardOutcome.of(results, true, false),
          FailedResult.among(results),
          List.of(),
          Optional.empty(),
          Optional.empty(),
          List.of(),
          Optional.empty());
    }
  }

  private RunStart start(BoardTestJob board, RunFacts facts) {
    return new RunStart(
        board.serial(),
        origin,
        "board test",
        RunStart.People.NONE,
        origin == RunOrigin.SIMULATED
            ? Optional.of(new RunStart.Simulation(1, true))
            : Optional.empty(),
        "0.1.0",
        START.plus(Duration.ofMinutes(minutes)),
        ZoneOffset.UTC,
        facts);
  }

  private static Result result(double ppm) {
    ComputationOutcome.Uncertainty u =
        new ComputationOutcome.Uncertainty(
            5, 10, ppm - 10, ppm + 10, 0.95, 2, OptionalDouble.empty());
    ComputationOutcome outcome = new ComputationOutcome.Value(ppm, Optional.of(u), 4);
    return new Result(
            ResultQuantity.CURRENT_ERROR,
            Optional.of("1mA"),
            ResultConditions.NONE,
            outcome,
            Optional.empty(),
            List.of(),
            Optional.of("I_N"),
            "invented",
            List.of())
        .with(Judge.of(outcome, Limits.between(-LIMIT_PPM, LIMIT_PPM), DecisionRule.SIMPLE));
  }

  @Override
  public void close() {
    book.close();
  }
}
