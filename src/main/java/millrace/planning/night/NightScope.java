// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.Comparator;
import java.util.EnumSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.DoubleBinaryOperator;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetLimit;
import millrace.evidence.ResultQuantity;
import millrace.quantity.ClosedInterval;

/**
 * The scope of a night: the measurements that the limits of a datasheet ask for, as far as a bench
 * can make them.
 *
 * @param title of the sequence
 * @param ranges the ranges that have limits, by name; not empty
 * @param slots names of slots; empty for all
 * @param quantities the quantities that have limits
 * @param referenceDegC T_ref, degC
 * @param hotDegC the highest temperature of the promises, degC; empty without a chamber or where it
 *     is T_ref
 * @param coldDegC the lowest temperature, likewise
 * @param betweenDegC the temperature between T_ref and an end that limits may need, degC: the end
 *     of the span of a limit on what is measured at one temperature at a time, else the middle;
 *     empty where there is none
 * @param toTheEdge whether a limit on the current reaches up to the compliance voltage
 * @param suppliesV supply voltages, V, out and back; empty where none are asked for or none can be
 *     set
 * @param rampKPerMin the ramp of the chamber, K/min, above 0: as fast as the bench file lets it for
 *     the units' sake, 3 K/min at most
 */
public record NightScope(
    String title,
    List<String> ranges,
    List<String> slots,
    Set<ResultQuantity> quantities,
    double referenceDegC,
    OptionalDouble hotDegC,
    OptionalDouble coldDegC,
    Optional<Double> betweenDegC,
    boolean toTheEdge,
    List<Double> suppliesV,
    double rampKPerMin) {
  /** A faster ramp gains little: a unit with a time constant of minutes only lags behind. */
  private static final double MOST_K_PER_MIN = 3;

  /** What is measured at one temperature at a time, and judged at each of them. */
  private static final Set<ResultQuantity> OF_ONE_TEMPERATURE =
      EnumSet.of(
          ResultQuantity.LOAD_REGULATION,
          ResultQuantity.OUTPUT_CONDUCTANCE,
          ResultQuantity.OUTPUT_RESISTANCE,
          ResultQuantity.COMPLIANCE_VOLTAGE,
          ResultQuantity.KNEE_VOLTAGE);

  /** The smallest distance of an intermediate temperature from both its neighbours, K. */
  private static final double BETWEEN_K = 3;

  /** The same for the middle, which shows a curvature. */
  private static final double MIDDLE_K = 8;

  /** Copies the collections. */
  public NightScope {
    ranges = List.copyOf(ranges);
    slots = List.copyOf(slots);
    quantities = Set.copyOf(quantities);
    suppliesV = List.copyOf(suppliesV);
  }

  /**
   * Makes the scope of a datasheet on a bench.
   *
   * @param datasheet states at least one limit
   * @param bench the bench
   * @param slots the filled slots; empty for all
   * @return the scope
   */
  public static NightScope of(Datasheet datasheet, BenchFile bench, List<String> slots) {
    List<DatasheetLimit> limits = datasheet.limits();
    Set<ResultQuantity> quantities = EnumSet.noneOf(ResultQuantity.class);
    limits.forEach(l -> quantities.add(l.quantity()));
    double reference = datasheet.referenceTemperatureDegC();
    List<DatasheetLimit> reached = bench.in(RoleName.CHAMBER).isPresent() ? limits : List.of();
    double hot = outermost(reached, ClosedInterval::upper, Math::max, reference);
    double cold = outermost(reached, ClosedInterval::lower, Math::min, reference);
    return new NightScope(
        "planned night of " + datasheet.name(),
        ranges(datasheet),
        slots,
        quantities,
        reference,
        hot > reference ? OptionalDouble.of(hot) : OptionalDouble.empty(),
        cold < reference ? OptionalDouble.of(cold) : OptionalDouble.empty(),
        between(reached, reference, hot, cold),
        toTheEdge(datasheet),
        supplies(limits, bench),
        ramp(bench));
  }

  private static double ramp(BenchFile bench) {
    return Math.min(MOST_K_PER_MIN, 60 * bench.mostRampKPerS());
  }

  private static Optional<Double> between(
      List<DatasheetLimit> limits, double reference, double hot, double cold) {
    if (hot == reference && cold == reference) {
      return Optional.empty();
    }
    double middle = Math.rint((reference + (hot > reference ? hot : cold)) / 2);
    return limits.stream()
        .filter(l -> OF_ONE_TEMPERATURE.contains(l.quantity()))
        .flatMap(l -> l.when().temperatureDegC().stream())
        .flatMap(span -> Stream.of(span.upper(), span.lower()))
        .filter(t -> Math.abs(t - reference) >= BETWEEN_K)
        .filter(t -> t > reference ? hot - t >= BETWEEN_K : t - cold >= BETWEEN_K)
        .max(Comparator.naturalOrder())
        .or(() -> Optional.of(middle).filter(m -> Math.abs(m - reference) >= MIDDLE_K));
  }

  /** Whether a limit on the current reaches farther than the load below the compliance voltage. */
  private static boolean toTheEdge(Datasheet datasheet) {
    double share = NightLoads.BEYOND / 100.0;
    return datasheet.limits().stream()
        .filter(l -> l.when().terminalVoltageV().isPresent())
        .anyMatch(
            l ->
                ranges(datasheet).stream()
                    .filter(range -> l.isFor(Optional.of(range)))
                    .anyMatch(
                        range ->
                            l.when().terminalVoltageV().get().upper()
                                > share * datasheet.complianceVoltageV(range).orElse(0.0)));
  }

  private static double outermost(
      List<DatasheetLimit> limits,
      ToDoubleFunction<ClosedInterval> end,
      DoubleBinaryOperator farther,
      double reference) {
    return limits.stream()
        .flatMap(l -> l.when().temperatureDegC().stream())
        .mapToDouble(end)
        .reduce(reference, farther);
  }

  private static List<String> ranges(Datasheet datasheet) {
    Set<String> named = new LinkedHashSet<>();
    for (String range : datasheet.ranges().keySet()) {
      if (datasheet.limits().stream().anyMatch(l -> l.isFor(Optional.of(range)))) {
        named.add(range);
      }
    }
    return List.copyOf(named);
  }

  /** Out and back in halves of the span, so that the middle is visited three times. */
  private static List<Double> supplies(List<DatasheetLimit> limits, BenchFile bench) {
    Optional<ClosedInterval> span =
        limits.stream()
            .filter(l -> l.quantity() == ResultQuantity.SUPPLY_REGULATION)
            .flatMap(l -> l.when().supplyV().stream())
            .findFirst();
    if (span.isEmpty() || bench.in(RoleName.SUPPLY).isEmpty()) {
      return List.of();
    }
    double low = span.get().lower();
    double high = span.get().upper();
    double middle = (low + high) / 2;
    return List.of(middle, low, middle, high, middle);
  }

  /** Whether the chamber changes its temperature. */
  boolean moves() {
    return hotDegC.isPresent() || coldDegC.isPresent();
  }

  /** The loads of its nights. */
  NightLoads loads() {
    return new NightLoads(toTheEdge);
  }

  /** The hot end, degC; the cold end where there is no hot one. */
  double endDegC() {
    return hotDegC.orElseGet(() -> coldDegC.orElseThrow());
  }

  /** Whether there is only a hot end, or only a cold end. */
  boolean isOneSided() {
    return hotDegC.isPresent() != coldDegC.isPresent();
  }

  private boolean wants(ResultQuantity... any) {
    return List.of(any).stream().anyMatch(quantities::contains);
  }

  /** Whether the knee must be found: the plateau ends there. */
  boolean wantsKnee() {
    return wants(
        ResultQuantity.COMPLIANCE_VOLTAGE,
        ResultQuantity.KNEE_VOLTAGE,
        ResultQuantity.OUTPUT_CONDUCTANCE,
        ResultQuantity.OUTPUT_RESISTANCE,
        ResultQuantity.LOAD_REGULATION);
  }

  /** Whether the leakage with the source off is limited. */
  boolean wantsLeakage() {
    return wants(ResultQuantity.OFF_LEAKAGE);
  }

  /** Whether a limit asks for readings over time. */
  boolean wantsRecord() {
    return wants(
        ResultQuantity.DRIFT,
        ResultQuantity.NOISE_RMS,
        ResultQuantity.NOISE_PEAK_TO_PEAK,
        ResultQuantity.ALLAN_DEVIATION,
        ResultQuantity.THERMAL_HYSTERESIS);
  }

  /** Whether the unit must be observed from power-on. */
  boolean wantsPowerOn() {
    return wants(ResultQuantity.WARM_UP_TIME, ResultQuantity.SETTLING_TIME);
  }
}
