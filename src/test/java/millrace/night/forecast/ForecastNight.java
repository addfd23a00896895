// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.nio.file.Path;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.assessment.Assessor;
import millrace.bench.driver.Drivers;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.night.BenchSession;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchSession;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.night.UnitUnderTest;
import millrace.run.control.StopRequest;
import millrace.sim.fault.FaultPlan;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.VirtualClock;

/** A night of one drawn unit on one drawn bench, whole, in virtual time, to hold forecasts to. */
final class ForecastNight implements AutoCloseable {
  static final Instant EVENING = Instant.parse("2026-11-25T18:00:00Z");
  static final Drivers DRIVERS = Drivers.load(Path.of("drivers"));

  private final Logbook book;
  private final RunReader reader;
  private final double hours;

  /** What is known of one limit: U, its degrees of freedom and its budget. */
  record Known(
      ResultQuantity quantity,
      String range,
      double expanded,
      OptionalDouble degrees,
      List<BudgetComponent> budget) {}

  private ForecastNight(Logbook book, RunReader reader, double hours) {
    this.book = book;
    this.reader = reader;
    this.hours = hours;
  }

  static ForecastNight of(Path folder, RunInputs inputs, SimulatedBenchSpec bench, long seed) {
    return of(folder, inputs, bench, SimulatedUnitFromDatasheet.of(inputs.datasheet()), seed);
  }

  static ForecastNight of(
      Path folder, RunInputs inputs, SimulatedBenchSpec bench, SimulatedUnitSpec unit, long seed) {
    Logbook book = Logbook.openOrCreate(folder.resolve("night-" + seed + ".db"));
    VirtualClock clock = new VirtualClock(EVENING);
    SimulatedBenchSession.Kinds kinds =
        new SimulatedBenchSession.Kinds(bench, unit, FaultPlan.NONE);
    OperatorAttendance nobody =
        new OperatorAttendance(
            RunStart.People.NONE,
            question -> "yes",
            List.of(),
            new StopRequest(run -> ""),
            List.of());
    try (BenchSession setting =
        BenchSession.of(SimulatedBenchSession.start(seed, clock, kinds), DRIVERS)) {
      Night night = new Night(inputs, setting, book, nobody);
      night.begin(UnitUnderTest.of("FX3-00001"));
      return new ForecastNight(
          book, book.reader(night.runs().get(0)), clock.elapsed().toMillis() / 3.6e6);
    }
  }

  RunReader reader() {
    return reader;
  }

  double hours() {
    return hours;
  }

  Map<List<Object>, Known> known() {
    return known(Assessor.assess(reader).results());
  }

  static Map<List<Object>, Known> forecast(
      RunInputs inputs, String bench, Optional<RunReader> like) {
    ForecastRun.Order order =
        new ForecastRun.Order(inputs, SimulatedBenchSession.NAME, bench, DRIVERS, EVENING);
    Earlier earlier = like.map(r -> Earlier.of(r, 50)).orElse(Earlier.NONE);
    return known(ForecastRun.of(order, earlier).results());
  }

  private static Map<List<Object>, Known> known(List<Result> results) {
    Map<List<Object>, Known> known = new LinkedHashMap<>();
    for (Result r : results) {
      if (r.judgement().isPresent()
          && r.outcome() instanceof ComputationOutcome.Value v
          && v.uncertainty().isPresent()) {
        ComputationOutcome.Uncertainty u = v.uncertainty().get();
        var j = r.judgement().get();
        known.put(
            List.of(r.quantity(), r.range(), j.limit(), j.when()),
            new Known(
                r.quantity(),
                r.range().orElse(""),
                u.expanded(),
                u.degreesOfFreedom(),
                r.budget()));
      }
    }
    return known;
  }

  @Override
  public void close() {
    book.close();
  }
}
