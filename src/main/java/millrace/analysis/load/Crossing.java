package millrace.analysis.load;

import java.util.List;
import java.util.Optional;

/**
 * Where the current has fallen by the criterion, enclosed from both sides (measurement.md 3.3): at
 * a knee y = I/(I_0 - G V) is concave, so the chord between the last point inside and the first
 * outside crosses too low, and the line through the two nearest points outside too high.
 *
 * @param lowV the chord's crossing, V
 * @param highV the crossing of the line through the points outside, cut at the first of them, V
 * @param lowU standard uncertainty of lowV, V
 * @param highU standard uncertainty of highV, V
 * @param points how many points lie beyond
 * @param sharp true if a third point beyond lies on the line through the first two
 */
public record Crossing(
    double lowV, double highV, double lowU, double highU, int points, boolean sharp) {

  /**
   * The best value: the middle, or for a sharp knee the crossing of the line outside.
   *
   * @return V
   */
  public double middleV() {
    return sharp ? highV : (lowV + highV) / 2;
  }

  /**
   * The expanded uncertainty: half the enclosure and 2 u at each end.
   *
   * @return V
   */
  public double expandedV() {
    double u = 2 * Math.max(lowU, highU);
    return sharp ? u : (highV - lowV) / 2 + u;
  }

  /** A load of the sweep as the walk sees it. */
  private record Stop(double v, double i, double y, double uV, double uY) {}

  static Optional<Crossing> find(
      List<List<LoadPoint>> loads, PlateauLine line, LoadQuestion question) {
    List<Stop> stops = loads.stream().map(l -> stop(l, line, question)).toList();
    double level = 1 - question.criterion();
    for (int i = 1; i < stops.size(); i++) {
      if (stops.get(i).y() <= level && stops.get(i - 1).y() > level) {
        return Optional.of(enclosed(stops, i, level, line, question));
      }
    }
    return Optional.empty();
  }

  private static Stop stop(List<LoadPoint> load, PlateauLine line, LoadQuestion question) {
    int n = load.size();
    double v = load.stream().mapToDouble(p -> p.voltageV().value()).average().orElseThrow();
    double i = load.stream().mapToDouble(p -> p.currentA().value()).average().orElseThrow();
    double uV = load.get(0).voltageV().standardUncertainty();
    double uI = load.get(0).currentA().pointUncertainty() / Math.sqrt(n);
    double reference = reference(line, question, v);
    return new Stop(Math.abs(v), Math.abs(i), i / reference, uV, uI / Math.abs(reference));
  }

  private static double reference(PlateauLine line, LoadQuestion question, double v) {
    return question.fromLine() ? line.at(v) : line.i0().value();
  }

  private static Crossing enclosed(
      List<Stop> stops, int first, double level, PlateauLine line, LoadQuestion question) {
    Stop inside = stops.get(first - 1);
    Stop outside = stops.get(first);
    double chordSlope = (outside.v() - inside.v()) / (outside.y() - inside.y());
    double low = inside.v() + (level - inside.y()) * chordSlope;
    double lowU = Math.hypot(inside.uV(), chordSlope * inside.uY());
    int beyond = stops.size() - first;
    if (beyond < 2) {
      return new Crossing(low, Math.max(low, outside.v()), lowU, outside.uV(), beyond, false);
    }
    Stop second = stops.get(first + 1);
    double steep = slopeOutside(outside, second);
    double target =
        level * Math.abs(reference(line, question, Math.copySign(low, question.nominalA())));
    double crossing = outside.v() + (target - outside.i()) * steep;
    double high = Math.max(low, Math.min(crossing, outside.v()));
    double highU = Math.hypot(outside.uV(), steep * outside.uY() * Math.abs(line.i0().value()));
    boolean sharp = beyond >= 3 && onLine(stops.get(first + 2), outside, second, steep);
    return new Crossing(low, high, lowU, highU, beyond, sharp);
  }

  /** dV/dI through the two nearest points outside. */
  private static double slopeOutside(Stop a, Stop b) {
    double di = b.i() - a.i();
    return di == 0 ? 0 : (b.v() - a.v()) / di;
  }

  private static boolean onLine(Stop third, Stop a, Stop b, double steep) {
    double predicted = a.v() + (third.i() - a.i()) * steep;
    double u = Math.sqrt(3) * Math.max(third.uV(), Math.max(a.uV(), b.uV()));
    double uI = Math.abs(steep) * 2 * third.uY() * third.i();
    double bend = Math.abs(third.v() - predicted);
    boolean straight = bend <= 3 * Math.hypot(u, uI);
    // Points that hardly differ in voltage lie on any line: they prove no sharp knee.
    boolean apart = Math.abs(third.v() - a.v()) > 6 * Math.hypot(u, uI);
    return straight && apart;
  }
}
