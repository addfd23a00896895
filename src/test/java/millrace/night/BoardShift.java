// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.bench.driver.Drivers;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetLimit;
import millrace.evidence.Limit;
import millrace.evidence.ResultQuantity;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.Logbook;
import millrace.logbook.ProductionRunPurpose;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.quantity.ClosedInterval;
import millrace.quantity.NumberText;
import millrace.run.control.StopRequest;
import millrace.run.production.BoardOutcome;
import millrace.run.production.BoardResult;
import millrace.run.production.BoardTestJob;
import millrace.sim.fault.FaultPlan;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.VirtualClock;

/**
 * Boards that are tested as production tests them, on a simulated bench in virtual time: the truth
 * of each is known. Single-threaded.
 */
final class BoardShift implements AutoCloseable {
  private static final double PPM = 1e6;
  private static final int HALVINGS = 50;
  private static final Instant MORNING = Instant.parse("2026-05-04T06:00:00Z");

  private final VirtualClock clock;
  private final BenchSession setting;
  private final Logbook book;
  private final RunInputs inputs;
  private final BoardRunner runner;

  /**
   * How one board fared.
   *
   * @param good whether it meets every limit, in truth
   * @param result of its test
   * @param seconds that the test took
   */
  record Tested(boolean good, BoardResult result, double seconds) {
    boolean passed() {
      return result.outcome().passed();
    }

    boolean failed() {
      return result.outcome() == BoardOutcome.FAIL;
    }
  }

  /**
   * A shift.
   *
   * @param inputs sequence and datasheet
   * @param seed of the bench and its boards
   * @param lot what is wrong with every board of the lot
   * @param book where it is written
   * @param tag by which its runs are found
   */
  BoardShift(
      RunInputs inputs, long seed, List<SimulatedUnitSpec.Defect> lot, Logbook book, String tag)
      throws IOException {
    SimulatedUnitSpec kind = SimulatedUnitFromDatasheet.of(inputs.datasheet());
    SimulatedUnitSpec ofLot =
        new SimulatedUnitSpec(
            kind.ranges(),
            kind.warmth(),
            kind.noise(),
            kind.kneeSoftnessV(),
            kind.supplyPerV(),
            lot);
    this.clock = new VirtualClock(MORNING);
    this.inputs = inputs;
    this.book = book;
    this.setting =
        BenchSession.of(
            SimulatedBenchSession.start(
                seed,
                clock,
                new SimulatedBenchSession.Kinds(SimulatedBenchSpec.demo(), ofLot, FaultPlan.NONE)),
            Drivers.load(Path.of("drivers")));
    OperatorAttendance nobody =
        new OperatorAttendance(
            new RunStart.People(Optional.empty(), Optional.empty(), Optional.of(tag)),
            question -> "",
            List.of(),
            new StopRequest(run -> ""),
            List.of());
    this.runner =
        new BoardRunner(
            inputs, setting, book, nobody, RunFacts.NONE, BatchElsewhere.of(Optional.empty(), ""));
  }

  Tested board(int number) {
    BoardTestJob job =
        new BoardTestJob(
            NumberText.format("FX3-%05d", number),
            ProductionRunPurpose.BOARD,
            1,
            Optional.empty(),
            Optional.empty(),
            new FixtureSetUp("fixture 1", "cable set 1", ""));
    Duration before = clock.elapsed();
    BoardResult result = runner.test(job);
    double seconds = clock.elapsed().minus(before).toMillis() / 1e3;
    boolean good = isGood(setting.simulation().orElseThrow().unit(), inputs);
    return new Tested(good, result, seconds);
  }

  List<Tested> boards(int from, int count) {
    List<Tested> all = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      all.add(board(from + i));
    }
    return all;
  }

  Logbook book() {
    return book;
  }

  /** Whether a unit meets every limit that the sequence asks for. */
  static boolean isGood(SimulatedUnit unit, RunInputs inputs) {
    Datasheet sheet = inputs.datasheet();
    return sheet.limits().stream()
        .filter(l -> inputs.loaded().sequence().compute().contains(l.quantity()))
        .allMatch(
            l ->
                sheet.ranges().keySet().stream()
                    .filter(r -> l.isFor(Optional.of(r)))
                    .allMatch(r -> isMet(l, new Truth(unit, r, sheet))));
  }

  private static boolean isMet(DatasheetLimit stated, Truth truth) {
    Limit limit = stated.limit(truth.nominalA);
    double reference = truth.sheet.referenceTemperatureDegC();
    ClosedInterval degC =
        stated.when().temperatureDegC().orElse(new ClosedInterval(reference, reference));
    ClosedInterval volts = stated.when().terminalVoltageV().orElse(new ClosedInterval(0, 0));
    for (double t : ends(degC)) {
      double found =
          stated.quantity() == ResultQuantity.LOAD_REGULATION
              ? truth.regulationPpmPerV(t)
              : truth.complianceV(t);
      if (stated.quantity() != ResultQuantity.CURRENT_ERROR && !limit.contains(found)) {
        return false;
      }
      for (double v : ends(volts)) {
        boolean error = stated.quantity() == ResultQuantity.CURRENT_ERROR;
        if (error && !limit.contains(truth.errorPpm(v, t))) {
          return false;
        }
      }
    }
    return true;
  }

  private static List<Double> ends(ClosedInterval interval) {
    return List.of(interval.lower(), (interval.lower() + interval.upper()) / 2, interval.upper());
  }

  /** What is true of one range. */
  private static final class Truth {
    private final SimulatedUnit unit;
    private final String range;
    private final Datasheet sheet;
    private final double nominalA;
    private final double supplyV;

    Truth(SimulatedUnit unit, String range, Datasheet sheet) {
      this.unit = unit;
      this.range = range;
      this.sheet = sheet;
      this.nominalA = sheet.ranges().get(range).nominalA();
      this.supplyV =
          unit.spec().ranges().stream()
              .filter(r -> r.name().equals(range))
              .findFirst()
              .orElseThrow()
              .supply()
              .volts();
    }

    private double currentA(double volts, double degC) {
      return unit.currentA(range, volts, degC, supplyV);
    }

    double errorPpm(double volts, double degC) {
      return (currentA(volts, degC) / nominalA - 1) * PPM;
    }

    private double slopeA(double degC) {
      double topV = 0.8 * sheet.complianceVoltageV(range).orElseThrow();
      return (currentA(topV, degC) - currentA(0, degC)) / topV;
    }

    double regulationPpmPerV(double degC) {
      return slopeA(degC) / nominalA * PPM;
    }

    /** Where the current is below the line of the plateau by the criterion. */
    double complianceV(double degC) {
      double low = 0;
      double high = 2 * supplyV;
      double least = 1 - sheet.compliance().criterion();
      for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;
        boolean held = currentA(middle, degC) > least * (currentA(0, degC) + slopeA(degC) * middle);
        low = held ? middle : low;
        high = held ? high : middle;
      }
      return low;
    }
  }

  @Override
  public void close() {
    setting.close();
  }
}
