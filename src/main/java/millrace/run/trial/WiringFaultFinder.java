// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Names wrong connections from the readings at a short and under load. Each kind of fault has one
 * message: where, what was found, what was expected, what to do.
 */
public final class WiringFaultFinder {
  /** The largest deviation from the nominal current that is accepted, a ratio. */
  static final double WITHIN = 0.01;

  private static final double NOTHING = 1e-3;
  private static final double MOST_OF = 0.9;

  private final List<Look> looks;
  private final Expected expected;

  private WiringFaultFinder(List<Look> looks, Expected expected) {
    this.looks = List.copyOf(looks);
    this.expected = expected;
  }

  /**
   * The readings at one load.
   *
   * @param loadOhm what the load was set to, ohm
   * @param currentA the current, A; empty if the meter gave no number
   * @param voltageV what the voltmeter showed, V; empty without one
   */
  record Look(double loadOhm, OptionalDouble currentA, OptionalDouble voltageV) {}

  /**
   * What was expected.
   *
   * @param range the range
   * @param nominalA its nominal current, A
   * @param railV the voltage above which the unit cannot drive its current, V; empty if not known
   * @param standardRatio the reading of a check standard through the same meter, divided by its
   *     nominal current; empty if there is none or it was not read
   */
  record Expected(
      String range, double nominalA, OptionalDouble railV, OptionalDouble standardRatio) {}

  /** Tells whether a reading shows the nominal current. */
  static boolean good(Look look, double nominalA) {
    return Math.abs(ratio(look, nominalA) - 1) <= WITHIN;
  }

  /** Tells whether practically no current flows. */
  static boolean nothing(Look look, double nominalA) {
    return look.currentA().isPresent() && Math.abs(ratio(look, nominalA)) < NOTHING;
  }

  private static double ratio(Look look, double nominalA) {
    return look.currentA().orElse(0) / nominalA;
  }

  /**
   * Names the fault.
   *
   * @param looks at the unit, by rising load; not empty
   * @param expected what should have been
   * @return the whole message; empty if every reading is good
   */
  static Optional<String> name(List<Look> looks, Expected expected) {
    WiringFaultFinder wiring = new WiringFaultFinder(looks, expected);
    boolean good = looks.stream().allMatch(l -> good(l, expected.nominalA()));
    return good ? Optional.empty() : Optional.of(wiring.message());
  }

  private String message() {
    Look bad = looks.stream().filter(l -> !good(l, expected.nominalA())).findFirst().orElseThrow();
    return "range %s into %s: %s; expected %s within 1 %%. %s"
        .formatted(
            expected.range(),
            QuantityText.print(bad.loadOhm(), Dimension.RESISTANCE, 4),
            found(bad),
            QuantityText.print(expected.nominalA(), Dimension.CURRENT, 4),
            cause());
  }

  private static String found(Look bad) {
    String current =
        bad.currentA().isEmpty()
            ? "no current could be read"
            : QuantityText.print(bad.currentA().getAsDouble(), Dimension.CURRENT, 5) + " flows";
    return bad.voltageV().isEmpty()
        ? current
        : current + " at " + QuantityText.print(bad.voltageV().getAsDouble(), Dimension.VOLTAGE, 4);
  }

  private String cause() {
    if (looks.stream().anyMatch(l -> ratio(l, expected.nominalA()) < -NOTHING)) {
      return "The current is negative: the leads are reversed. Exchange the unit's two leads.";
    } else if (risesWithLoad()) {
      return "More flows into a larger load: the current meter sits across the output, beside the"
          + " load. Connect it in series with the load.";
    } else if (looks.stream().allMatch(l -> nothing(l, expected.nominalA()))) {
      return noCurrent();
    } else if (looks.stream().anyMatch(this::atTheRail)) {
      return "The voltage is at the rail: the loop has more resistance than the load is set to."
          + " Check the load's setting and what else is in series.";
    }
    return "Check range selection and supply, and that the load box and the unit are the right"
        + " ones.";
  }

  private boolean risesWithLoad() {
    double first = ratio(looks.get(0), expected.nominalA());
    double last = ratio(looks.get(looks.size() - 1), expected.nominalA());
    return last > MOST_OF && first < MOST_OF && looks.size() > 1;
  }

  private boolean atTheRail(Look look) {
    return look.voltageV().isPresent()
        && expected.railV().isPresent()
        && Math.abs(look.voltageV().getAsDouble()) >= expected.railV().getAsDouble();
  }

  /** A check standard that reads right through the same meter clears the meter and its fuse. */
  private String noCurrent() {
    String rail =
        looks.stream().anyMatch(this::atTheRail)
            ? "The terminals stand at the rail, so the loop is open. "
            : "";
    if (expected.standardRatio().isEmpty()) {
      return rail
          + (rail.isEmpty()
              ? "A lead is open, the current meter's fuse is blown, or the source is off. Check in"
                  + " this order: source, leads, fuse."
              : "A lead is open or the current meter's fuse is blown. Check the leads, then the"
                  + " fuse.");
    }
    boolean reads = Math.abs(expected.standardRatio().getAsDouble() - 1) <= WITHIN;
    return rail
        + (reads
            ? "The check standard reads right through the same meter: a lead of the unit is open,"
                + " or its source is off. Check the unit's leads."
            : "The check standard gives no current either, and the meter reports no error: the"
                + " current meter's fuse is blown. Check the fuse, then the meter's leads.");
  }

  /**
   * Names a thermometer that does not follow the chamber.
   *
   * @param beforeDegC what it showed before the chamber moved, degC
   * @param afterDegC what it shows now, degC
   * @param chamberDegC what the chamber shows now, degC
   * @return the message; empty if it follows, or if the chamber did not move enough to tell
   */
  public static Optional<String> thermometer(
      double beforeDegC, double afterDegC, double chamberDegC) {
    double way = chamberDegC - beforeDegC;
    double gone = afterDegC - beforeDegC;
    if (Math.abs(way) < 5 || gone / way >= 0.5) {
      return Optional.empty();
    }
    return Optional.of(
        "the unit's thermometer went from %s to %s while the chamber went to %s; expected it to follow: it is not at the unit. Fasten it to the unit."
            .formatted(degC(beforeDegC), degC(afterDegC), degC(chamberDegC)));
  }

  private static String degC(double value) {
    return QuantityText.print(value, Dimension.TEMPERATURE, 4);
  }
}
