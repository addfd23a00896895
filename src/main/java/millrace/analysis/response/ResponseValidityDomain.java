// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.quantity.ClosedInterval;

/**
 * The domain of a response (methods.md 11.4): temperatures between the lowest and the highest
 * visited, within 1 K; voltages up to an edge that moves with temperature, within 2 % of it.
 *
 * @param visitsDegC temperatures of the visits, ascending
 * @param temperatureDegC lowest and highest temperature, degC, without slack
 * @param corners highest voltage by temperature, linear between, ascending in temperature
 * @param voltageV the least and the largest voltage used, V
 * @param supplyV the least and the largest supply voltage used, V; empty where none was set
 */
public record ResponseValidityDomain(
    List<Double> visitsDegC,
    ClosedInterval temperatureDegC,
    List<Corner> corners,
    ClosedInterval voltageV,
    Optional<ClosedInterval> supplyV) {

  /** Allowed distance beyond the temperatures of the visits, K. */
  public static final double SLACK_K = 1;

  /** Allowed distance beyond the edge, a ratio of it. */
  public static final double SLACK_RATIO = 0.02;

  /** A supply voltage within this ratio of a measured one counts as equal to it. */
  private static final double SAME_SUPPLY = 0.01;

  /** Two terminal voltages within this distance count as equal, V. */
  private static final double SAME_V = 0.01;

  /**
   * The highest voltage at a temperature.
   *
   * @param temperatureDegC degC
   * @param upToV V
   * @param reached true if the current falls beyond it, so that no measurement there helps
   */
  public record Corner(double temperatureDegC, double upToV, boolean reached) {}

  /** Copies the lists. */
  public ResponseValidityDomain {
    visitsDegC = List.copyOf(visitsDegC);
    corners = List.copyOf(corners);
  }

  /**
   * The unlimited domain, for coefficients of a design.
   *
   * @return a domain without limits
   */
  public static ResponseValidityDomain everywhere() {
    ClosedInterval all = new ClosedInterval(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
    return new ResponseValidityDomain(List.of(), all, List.of(), all, Optional.empty());
  }

  /**
   * The highest voltage of predictions at a temperature, without slack (methods.md 11.4).
   *
   * @param degC the temperature
   * @return V
   */
  public double edgeV(double degC) {
    return Math.min(corner(degC).upToV(), voltageV.upper());
  }

  /** The edge between two corners; constant beyond the last one. */
  Corner corner(double degC) {
    if (corners.isEmpty()) {
      return new Corner(degC, voltageV.upper(), false);
    }
    Corner below = corners.get(0);
    for (Corner above : corners) {
      if (above.temperatureDegC() >= degC) {
        return between(below, above, degC);
      }
      below = above;
    }
    return below;
  }

  private static Corner between(Corner a, Corner b, double degC) {
    double span = b.temperatureDegC() - a.temperatureDegC();
    double share = span > 0 ? Math.max(0, (degC - a.temperatureDegC()) / span) : 1;
    double v = a.upToV() + share * (b.upToV() - a.upToV());
    return new Corner(degC, v, share < 0.5 ? a.reached() : b.reached());
  }

  /** The temperature of the nearest visit; empty where there is none. */
  Optional<Double> nearestVisit(double degC) {
    return visitsDegC.stream()
        .min((a, b) -> Double.compare(Math.abs(a - degC), Math.abs(b - degC)));
  }

  /**
   * The measurements missing for a condition (methods.md 11.4).
   *
   * @param degC temperature of the unit, degC
   * @param volts terminal voltage in the direction of the current, V
   * @return such as {@code measure at 50 degC}; empty inside the domain
   */
  public List<String> wanting(double degC, double volts) {
    List<String> wanting = new ArrayList<>();
    if (!knowsTemperature(degC)) {
      wanting.add("measure at " + number(degC) + " degC");
    }
    if (!knowsVoltage(degC, volts)) {
      wanting.add(pastTheKnee(degC, volts) ? knee(degC) : voltage(degC, volts));
    }
    return wanting;
  }

  /** Tells whether nothing is missing for a condition, see {@link #wanting}. */
  boolean holds(double degC, double volts) {
    return knowsTemperature(degC) && knowsVoltage(degC, volts);
  }

  private boolean knowsTemperature(double degC) {
    return degC >= temperatureDegC.lower() - SLACK_K && degC <= temperatureDegC.upper() + SLACK_K;
  }

  private boolean knowsVoltage(double degC, double volts) {
    double edge = edgeV(degC);
    double from =
        oneVoltage() ? voltageV.lower() - slackV(voltageV.lower()) : Math.min(0, voltageV.lower());
    return volts >= from - SAME_V && volts <= edge + slackV(edge);
  }

  private boolean oneVoltage() {
    return voltageV.upper() - voltageV.lower() <= SAME_V;
  }

  private static double slackV(double edge) {
    return Math.max(SLACK_RATIO * Math.abs(edge), SAME_V);
  }

  /** Whether a voltage lies beyond the knee, for which the model has no term. */
  boolean pastTheKnee(double degC, double volts) {
    Corner corner = corner(degC);
    return corner.reached() && volts > corner.upToV() + slackV(corner.upToV());
  }

  /** If the voltage was used at other temperatures, the temperature too. */
  private String voltage(double degC, double volts) {
    boolean elsewhere = !oneVoltage() && volts <= voltageV.upper() + slackV(voltageV.upper());
    return elsewhere && knowsTemperature(degC)
        ? "measure at %s V and %s degC".formatted(number(volts), number(degC))
        : "measure at " + number(volts) + " V";
  }

  private String knee(double degC) {
    return "keep below %s V at %s degC, where the current falls away"
        .formatted(number(corner(degC).upToV()), number(degC));
  }

  /**
   * The reason that a condition is outside the domain, in words.
   *
   * @param degC temperature of the unit, degC
   * @param volts terminal voltage in the direction of the current, V
   * @return the reason; empty inside the domain
   */
  Optional<String> whyNot(double degC, double volts) {
    List<String> reasons = new ArrayList<>();
    if (!knowsTemperature(degC)) {
      reasons.add(
          "%s degC lies outside of %s"
              .formatted(
                  number(degC), span(temperatureDegC.lower(), temperatureDegC.upper(), "degC")));
    }
    if (!knowsVoltage(degC, volts)) {
      reasons.add(
          pastTheKnee(degC, volts)
              ? "%s V lies past %s V, where the current begins to fall away at %s degC"
                  .formatted(number(volts), number(corner(degC).upToV()), number(degC))
              : "%s V lies outside of %s, which was used at %s degC"
                  .formatted(
                      number(volts),
                      span(Math.min(0, voltageV.lower()), edgeV(degC), "V"),
                      number(degC)));
    }
    return reasons.isEmpty() ? Optional.empty() : Optional.of(String.join("; ", reasons));
  }

  /** The measurement missing for a supply voltage; empty if it was used. */
  Optional<String> wantingSupply(double volts) {
    return knowsSupply(volts)
        ? Optional.empty()
        : Optional.of("measure with a supply of " + number(volts) + " V");
  }

  /** Tells whether a supply voltage was used. */
  boolean knowsSupply(double volts) {
    return supplyV.isPresent()
        && volts >= supplyV.get().lower() * (1 - SAME_SUPPLY)
        && volts <= supplyV.get().upper() * (1 + SAME_SUPPLY);
  }

  private static String span(double from, double to, String unit) {
    return number(from).equals(number(to))
        ? number(from) + " " + unit
        : number(from) + " to " + number(to) + " " + unit;
  }

  /**
   * The known span of temperatures, for plots and tables.
   *
   * @return degC; the visited temperatures if coefficients of a design make the domain unlimited
   */
  public ClosedInterval shownDegC() {
    boolean open =
        Double.isInfinite(temperatureDegC.lower()) || Double.isInfinite(temperatureDegC.upper());
    return open && !visitsDegC.isEmpty()
        ? new ClosedInterval(visitsDegC.get(0), visitsDegC.get(visitsDegC.size() - 1))
        : temperatureDegC;
  }

  /** Four digits without trailing zeros. */
  static String number(double value) {
    if (!Double.isFinite(value)) {
      return value < 0 ? "any lower" : "any higher";
    }
    BigDecimal rounded = new BigDecimal(value).round(new MathContext(4)).stripTrailingZeros();
    return rounded.signum() == 0 ? "0" : rounded.toPlainString();
  }

  /**
   * This domain, extended in temperature by that of coefficients from another source. Both limit
   * the voltage there: this unit's edge at its last visit, and the edge of the other.
   */
  ResponseValidityDomain extendedBy(ResponseValidityDomain other) {
    List<Corner> all = new ArrayList<>(corners);
    for (Corner c : other.corners) {
      boolean outside =
          corners.isEmpty()
              || c.temperatureDegC() < corners.get(0).temperatureDegC()
              || c.temperatureDegC() > corners.get(corners.size() - 1).temperatureDegC();
      if (outside) {
        Corner own = corner(c.temperatureDegC());
        Corner lower = own.upToV() <= c.upToV() ? own : c;
        all.add(new Corner(c.temperatureDegC(), lower.upToV(), lower.reached()));
      }
    }
    all.sort(Comparator.comparingDouble(Corner::temperatureDegC));
    return new ResponseValidityDomain(
        visitsDegC,
        new ClosedInterval(
            Math.min(temperatureDegC.lower(), other.temperatureDegC.lower()),
            Math.max(temperatureDegC.upper(), other.temperatureDegC.upper())),
        all,
        voltageV,
        supplyV);
  }
}
