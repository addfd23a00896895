// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.conformity.Judge;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.logbook.FileRole;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.Logbook;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunFacts;
import millrace.logbook.RunFilter;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;

/** A logbook of invented runs whose results are known. */
public final class Batch implements AutoCloseable {
  static final Limit LIMIT = Limits.between(-100, 100);

  private static final Instant START = Instant.parse("2026-03-02T06:00:00Z");
  private static final String SHEET =
      "datasheet: BX5 excitation source\n"
          + "retests: 1\n"
          + "decision: {rule: guarded, r: 1}\n"
          + "ranges:\n"
          + "  1mA: {nominal: 1 mA}\n"
          + "bins:\n"
          + "  fine:\n"
          + "    - {quantity: current_error, range: 1mA, lower: -10 ppm, upper: 10 ppm,\n"
          + "       when: {terminal voltage: [0 V, 1 V]}}\n"
          + "  usual: []\n";

  private final Logbook book;
  private int minutes;

  /** An empty one in a folder. */
  public Batch(Path folder) {
    book = Logbook.openOrCreate(folder.resolve("batch.db"));
  }

  /**
   * One run.
   *
   * @param unit serial number
   * @param people operator, batch, tag
   * @param facts beside it
   */
  public record Order(String unit, RunStart.People people, RunFacts facts, String title) {
    /** A run of a unit. */
    public static Order of(String unit) {
      return new Order(unit, RunStart.People.NONE, RunFacts.NONE, "board test");
    }

    /** In a batch. */
    public Order in(String batch) {
      return new Order(
          unit,
          new RunStart.People(people.operator(), Optional.of(batch), people.tag()),
          facts,
          title);
    }

    Order by(String operator) {
      return new Order(
          unit,
          new RunStart.People(Optional.of(operator), people.batch(), people.tag()),
          facts,
          title);
    }

    /** With a fact beside it. */
    public Order with(String name, String value) {
      return new Order(unit, people, new RunFacts(Map.of(name, value)), title);
    }

    Order titled(String other) {
      return new Order(unit, people, facts, other);
    }
  }

  /** Where the runs are. */
  public Logbook book() {
    return book;
  }

  /** What is done with a run before it ends. */
  public interface Work {
    /** Does it. */
    void with(RunWriter writer);
  }

  private RunStart start(Order order, RunOrigin origin) {
    minutes++;
    return new RunStart(
        order.unit(),
        origin,
        order.title(),
        order.people(),
        origin == RunOrigin.SIMULATED
            ? Optional.of(new RunStart.Simulation(1, true))
            : Optional.empty(),
        "0.1.0",
        START.plus(Duration.ofMinutes(minutes)),
        ZoneOffset.UTC,
        order.facts());
  }

  /** The next run begins so many days later. */
  public void later(int days) {
    minutes += days * 24 * 60;
  }

  /** A run of the usual instrument. */
  public long run(Order order, List<Result> results) {
    return run(order, RunOrigin.BENCH, results, w -> instrument(w, "C-1"));
  }

  /** A run of any origin. */
  public long run(Order order, RunOrigin origin, List<Result> results, Work work) {
    try (RunWriter writer = book.begin(start(order, origin))) {
      writer.file(FileRole.DATASHEET, "bx5.yaml", SHEET.getBytes(StandardCharsets.UTF_8));
      writer.setUp(new FixtureSetUp("fixture 1", "cables 1", ""));
      work.with(writer);
      writer.end(RunState.COMPLETE, "", START.plus(Duration.ofMinutes(minutes)));
      book.save(writer.run(), evaluation(results), results);
      return writer.run();
    }
  }

  long unfinished(Order order) {
    try (RunWriter writer = book.begin(start(order, RunOrigin.BENCH))) {
      return writer.run();
    }
  }

  /** The meter, with a certificate of that number. */
  public static void instrument(RunWriter writer, String certificate) {
    writer.instrument(
        new InstrumentEntry(
            "dmm1",
            "current meter",
            "scpi meter",
            "tcp 127.0.0.1:5025",
            "maker,model,17,1.0",
            Optional.of("17"),
            Optional.of(
                new InstrumentEntry.Certificate(
                    "Lab of invented values",
                    certificate,
                    Optional.of(LocalDate.of(2026, 1, 5)),
                    Optional.empty())),
            START));
  }

  private static RunEvaluation evaluation(List<Result> results) {
    boolean fine =
        results.stream()
            .allMatch(
                r ->
                    r.outcome() instanceof ComputationOutcome.Value v && Math.abs(v.value()) <= 10);
    return new RunEvaluation(
        "basis",
        START,
        "0.1.0",
        Optional.empty(),
        OptionalDouble.empty(),
        List.of(),
        Optional.empty(),
        Optional.of(fine ? "fine" : "usual"),
        "invented");
  }

  /** A current error in ppm, u of 15 ppm by the meter and 2 ppm by noise. */
  public static Result error(double ppm) {
    return error(ppm, LIMIT);
  }

  static Result error(double ppm, Limit limit) {
    Result result = measured(ppm);
    return result.with(
        Judge.of(result.outcome(), limit, new DecisionRule(DecisionRule.Kind.GUARDED, 1)));
  }

  /** The same without a limit. */
  public static Result measured(double ppm) {
    double u = Math.hypot(15, 2);
    ComputationOutcome.Uncertainty own =
        new ComputationOutcome.Uncertainty(
            u, 2 * u, ppm - 2 * u, ppm + 2 * u, 0.9545, 2, OptionalDouble.empty());
    ComputationOutcome outcome = new ComputationOutcome.Value(ppm, Optional.of(own), 4);
    return new Result(
        ResultQuantity.CURRENT_ERROR,
        Optional.of("1mA"),
        ResultConditions.of(ResultConditionKey.TERMINAL_VOLTAGE_V, 0),
        outcome,
        Optional.empty(),
        List.of(
            component("meter gain", "instrument and range", 15),
            component("meter noise", "point", 2)),
        Optional.of("I_N"),
        "invented",
        List.of());
  }

  private static BudgetComponent component(String name, String group, double ppm) {
    return new BudgetComponent(
        name, group, ppm, "ppm", ErrorDistribution.NORMAL, 1, ppm, OptionalDouble.empty());
  }

  Comparison compared() {
    return RunComparer.of(book, book.runs(RunFilter.ALL), false, UnitFactors.NONE);
  }

  @Override
  public void close() {
    book.close();
  }
}
