// SPDX-License-Identifier: Apache-2.0
package millrace.planning.cause;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import millrace.analysis.causes.FurtherMeasurement;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.quantity.ClosedInterval;

/**
 * The measurements that are possible for a unit on a bench.
 *
 * @param datasheet the datasheet of the unit
 * @param bench the bench
 */
public record CauseScope(Datasheet datasheet, BenchFile bench) {
  /**
   * The distance from the reference temperature below which no chamber is needed, K (common
   * practice, no source).
   */
  private static final double AMBIENT_K = 3;

  /** The smallest distance of two temperatures that gives a tempco, K. */
  private static final double LEAST_SPAN_K = 10;

  /** The share of a voltage that must not be reached. */
  private static final double BELOW = 0.95;

  /**
   * Further voltages as shares of the voltage asked for; they show whether the plateau is straight.
   */
  static final List<Double> BELOW_IT = List.of(0.1, 0.5);

  /** The voltage for a range without one, as a share of its compliance. */
  private static final double LOW = 0.05;

  /**
   * Adapts a measurement to this bench.
   *
   * @param what the measurement asked for
   * @return the same, or at a temperature or voltage that the bench reaches; empty if it is not
   *     possible
   */
  Optional<FurtherMeasurement> feasible(FurtherMeasurement what) {
    if (what instanceof FurtherMeasurement.OfCurrent current) {
      return current(current);
    }
    return byHand((FurtherMeasurement.ByHand) what);
  }

  private double referenceDegC() {
    return datasheet.referenceTemperatureDegC();
  }

  /** Whether a temperature needs no chamber. */
  boolean isAmbient(double degC) {
    return Math.abs(degC - referenceDegC()) < AMBIENT_K;
  }

  /**
   * The nearest temperature that the bench can set; empty without a chamber, except for ambient.
   */
  private Optional<Double> reached(double degC) {
    if (isAmbient(degC)) {
      return Optional.of(degC);
    }
    if (bench.in(RoleName.CHAMBER).isEmpty()) {
      return Optional.empty();
    }
    double reached = degC;
    List<Optional<ClosedInterval>> bounds =
        List.of(
            bench.facts(RoleName.CHAMBER).flatMap(f -> f.allowed().betweenDegC()),
            bench.interlocks().chamber().degC(),
            bench.interlocks().unit().degC());
    for (Optional<ClosedInterval> bound : bounds) {
      if (bound.isPresent()) {
        reached = Math.max(bound.get().lower(), Math.min(bound.get().upper(), reached));
      }
    }
    return Optional.of(reached);
  }

  private Optional<FurtherMeasurement> byHand(FurtherMeasurement.ByHand what) {
    List<Double> degC = what.degC().stream().flatMap(t -> reached(t).stream()).toList();
    double span = degC.isEmpty() ? 0 : degC.get(degC.size() - 1) - degC.get(0);
    boolean spanned = what.degC().size() == 1 || Math.abs(span) >= LEAST_SPAN_K;
    return Optional.of(degC)
        .filter(d -> d.size() == what.degC().size() && spanned)
        .map(d -> new FurtherMeasurement.ByHand(what.words(), what.asked(), d));
  }

  private Optional<FurtherMeasurement> current(FurtherMeasurement.OfCurrent what) {
    Optional<Double> degC = reached(what.degC());
    Optional<Double> promised = datasheet.complianceVoltageV(what.range());
    Optional<Double> most =
        bench
            .interlocks()
            .terminalV()
            .map(v -> promised.map(p -> Math.min(p, v)).orElse(v))
            .or(() -> promised)
            .map(v -> BELOW * v);
    double low = promised.map(p -> LOW * p).orElse(0.0);
    double wished = Math.max(low, what.terminalV());
    double volts = Math.min(wished, most.orElse(wished));
    return degC.filter(t -> datasheet.range(what.range()).isPresent() && volts > 0)
        .map(t -> new FurtherMeasurement.OfCurrent(what.words(), what.range(), volts, t));
  }

  /**
   * The slot that represents the unit's slot.
   *
   * @return its name; empty on a bench without slots
   */
  public List<String> slot() {
    return bench.slots().keySet().stream().limit(1).toList();
  }

  private double sizeA(String range) {
    return datasheet.range(range).map(r -> Math.abs(r.nominalA())).orElse(0.0);
  }

  /** The largest range, measured again to check that the unit has not changed. */
  Optional<FurtherMeasurement.OfCurrent> again(Predicate<String> known) {
    return datasheet.ranges().keySet().stream()
        .filter(known)
        .filter(r -> datasheet.complianceVoltageV(r).isPresent())
        .max(Comparator.comparingDouble(this::sizeA))
        .map(
            r ->
                new FurtherMeasurement.OfCurrent(
                    "measure range " + r + " again",
                    r,
                    0.5 * datasheet.complianceVoltageV(r).orElseThrow(),
                    referenceDegC()));
  }
}
