package millrace.run;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.Bench;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conditions;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.run.Wiring.Look;

/**
 * Takes every range of a unit into a short and into half its compliance voltage, before the chamber
 * moves; names what is connected wrong. Single-threaded.
 */
final class TrialLap {
  private static final double[] SHARES = {0, 0.5};
  private static final double USUAL_V = 2;

  private final Datasheet datasheet;
  private final Probe probe;

  TrialLap(Bench bench, Datasheet datasheet, Station station, Watchman watchman) {
    this.datasheet = datasheet;
    this.probe = new Probe(bench, station, watchman::sleep);
  }

  /** Sets conditions and waits until the current stands. */
  void settle(Conditions stop) {
    probe.settle(stop);
  }

  /** What is looked at in one range, by rising load. */
  static List<Conditions> stops(Conditions from, Datasheet sheet, Datasheet.Range range) {
    double fullV = sheet.complianceVoltageV(range.name()).orElse(USUAL_V);
    List<Conditions> stops = new ArrayList<>();
    for (double share : SHARES) {
      double ohm = share * fullV / Math.abs(range.nominalA());
      stops.add(
          from.inRange(range.name(), range.nominalA())
              .atLoad(ohm, OptionalDouble.empty(), Optional.empty()));
    }
    return stops;
  }

  /** The key of one stop. */
  static String key(String lap, Conditions stop) {
    return "%s/%s/%s"
        .formatted(
            lap,
            stop.range().orElseThrow(),
            Quantities.print(stop.loadOhm().orElseThrow(), Dimension.RESISTANCE, 4));
  }

  /**
   * What is wrong with the wiring; where nothing flows, the check standard is asked too.
   *
   * @return the whole message; empty if every look is good
   */
  static Optional<String> wrong(
      List<Look> looks, Datasheet sheet, Datasheet.Range range, Probe probe) {
    boolean nothing = looks.stream().allMatch(l -> Wiring.nothing(l, range.nominalA()));
    OptionalDouble standard = nothing ? probe.standardRatio() : OptionalDouble.empty();
    OptionalDouble rail =
        sheet
            .complianceVoltageV(range.name())
            .or(sheet::openCircuitVoltageV)
            .map(OptionalDouble::of)
            .orElse(OptionalDouble.empty());
    return Wiring.name(looks, new Wiring.Expected(range.name(), range.nominalA(), rail, standard));
  }

  /** Ends the lap if the looks at a range are not as they should be. */
  void judge(List<Look> looks, Datasheet.Range range) {
    wrong(looks, datasheet, range, probe)
        .ifPresent(
            text -> {
              throw new TrialFailedException("trial lap, " + text + " The chamber was not moved.");
            });
  }
}
