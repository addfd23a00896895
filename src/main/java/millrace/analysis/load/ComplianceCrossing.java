// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.CoverageFactors;

/**
 * Where the current has fallen by the criterion, enclosed from both sides (methods.md 3.3). At a
 * knee y = I/(I_0 - G V) is concave: the chord from the last load clearly inside to the first
 * clearly outside crosses too low, the line through the two nearest loads outside too high, and the
 * middle is the value. Clearly means by more than 2 u, so that noise makes the enclosure wide
 * instead of wrong. Only where a third load outside lies on that line is its crossing the value. A
 * source that folds back is enclosed by load instead: V = I R with I at the criterion and R between
 * the two loads.
 *
 * @param lowV lower end of the enclosure, V
 * @param highV its upper end, V
 * @param lowU standard uncertainty of lowV, V
 * @param highU standard uncertainty of highV, V
 * @param lowDegrees degrees of freedom of lowU; empty for infinite
 * @param highDegrees degrees of freedom of highU; empty for infinite
 * @param valueV best value, V
 * @param points how many loads lie beyond
 * @param shape what the knee looks like
 */
public record ComplianceCrossing(
    double lowV,
    double highV,
    double lowU,
    double highU,
    OptionalDouble lowDegrees,
    OptionalDouble highDegrees,
    double valueV,
    int points,
    Shape shape) {

  /** Shape of the knee, from the loads beyond it. */
  public enum Shape {
    /** The loads beyond do not lie on a line, or are too few: the middle is the value. */
    ROUND,
    /** Three loads beyond lie on a line: its crossing is the value. */
    SHARP,
    /** The voltage falls beyond the knee. */
    FOLDS_BACK
  }

  /** A third load on the line through two lies within so many u of it. */
  private static final double BENT = 3;

  /**
   * Share of the largest rounding hidden by noise that counts as likely, and its cap in u. Together
   * they cover the sharpest knees of simulated circuits, whose loads beyond lie on a line within
   * noise although the crossing is rounded by up to 8 u.
   */
  private static final double LIKELY = 0.2;

  private static final double MOST_ROUNDED = 4;

  /** With noise above this share of the enclosure no knee counts as sharp. */
  private static final double MOST_HIDDEN = 0.01;

  /** A load on the way up the sweep; magnitudes. */
  private record Stop(
      double v, double i, double y, double uV, double noiseV, double uI, double degrees) {
    double uY() {
      return i == 0 ? 0 : uI * y / i;
    }

    double commonV() {
      return Math.sqrt(Math.max(0, uV * uV - noiseV * noiseV));
    }

    /** Its current as a part of the uncertainty of a voltage, V: u^4/nu. */
    double fourthPerDegree(double perA) {
      return Math.pow(perA * uI, 4) / degrees;
    }
  }

  /** The input of the enclosure. */
  private record Walk(List<Stop> stops, int inside, int outside, double level, boolean valueAlone) {
    Stop a() {
      return stops.get(inside);
    }

    Stop b() {
      return stops.get(outside);
    }

    int beyond() {
      return stops.size() - outside;
    }
  }

  /**
   * U of the value, the larger side of the enclosure with the uncertainty of its ends (methods.md
   * 3.3).
   *
   * @param coverage probability of the interval, above 0 and below 1
   * @return U, V
   */
  public double expandedV(double coverage) {
    double k = CoverageFactors.factor(coverage, OptionalDouble.empty());
    return Math.max(valueV - (lowV - k * lowU), highV + k * highU - valueV);
  }

  static Optional<ComplianceCrossing> find(
      List<EqualLoadPoints> loads, PlateauLine line, LoadSweepRequest question) {
    List<Stop> stops = new ArrayList<>(loads.size());
    double unknown = line.scatterA();
    for (EqualLoadPoints load : loads) {
      stops.add(stop(load, line, question, unknown));
    }
    double level = 1 - question.criterion();
    int outside = firstOutside(stops, level);
    if (outside < 1) {
      return Optional.empty();
    }
    int inside = outside - 1;
    while (inside > 0 && stops.get(inside).y() - 2 * stops.get(inside).uY() <= level) {
      inside--;
    }
    return Optional.of(enclosed(new Walk(stops, inside, outside, level, line.i0().isDrawn())));
  }

  private static Stop stop(
      EqualLoadPoints load, PlateauLine line, LoadSweepRequest question, double unknownA) {
    double reference = question.fromLine() ? line.at(load.v()) : line.i0().value();
    double uI = load.uI() > 0 ? load.uI() : unknownA / Math.sqrt(load.points().size());
    return new Stop(
        load.magnitudeV(),
        Math.abs(load.i()),
        load.i() / reference,
        load.uV(),
        load.noiseV(),
        uI,
        load.degrees());
  }

  /**
   * The first load clearly below the level whose successor is not above it (one above means noise
   * on a plateau); else the first after which all are below.
   */
  private static int firstOutside(List<Stop> stops, double level) {
    for (int i = 0; i < stops.size(); i++) {
      boolean alone = i + 1 < stops.size() && stops.get(i + 1).y() > level;
      if (!alone && stops.get(i).y() + 2 * stops.get(i).uY() <= level) {
        return i;
      }
    }
    int first = stops.size();
    while (first > 0 && stops.get(first - 1).y() <= level) {
      first--;
    }
    return first == stops.size() ? -1 : first;
  }

  private static ComplianceCrossing enclosed(Walk walk) {
    Stop a = walk.a();
    Stop b = walk.b();
    if (foldsBack(walk)) {
      return folded(walk);
    }
    double perY = (b.v() - a.v()) / (b.y() - a.y());
    double low = a.v() + Math.min(0, walk.level() - a.y()) * perY;
    double share = Math.min(1, Math.max(0, (a.y() - walk.level()) / (a.y() - b.y())));
    double lowU =
        Math.hypot(
            Math.hypot((1 - share) * a.uV(), share * b.uV()),
            Math.abs(perY) * Math.hypot((1 - share) * a.uY(), share * b.uY()));
    OptionalDouble lowDegrees =
        degrees(
            lowU,
            a.fourthPerDegree((1 - share) * perY * a.y() / a.i())
                + b.fourthPerDegree(share * perY * b.y() / b.i()));
    if (walk.beyond() < 2) {
      double perA = b.y() + 2 * b.uY() > walk.level() ? perY * b.y() / b.i() : 0;
      double highU = Math.hypot(b.uV(), perA * b.uI());
      double high = Math.max(low, b.v());
      OptionalDouble highDegrees = degrees(highU, b.fourthPerDegree(perA));
      return new ComplianceCrossing(
          low, high, lowU, highU, lowDegrees, highDegrees, (low + high) / 2, 1, Shape.ROUND);
    }
    return withOuterLine(walk, low, lowU, lowDegrees);
  }

  /** Effective degrees of freedom (Welch and Satterthwaite; JCGM 100:2008, G.4.1). */
  private static OptionalDouble degrees(double u, double fourthPerDegree) {
    return fourthPerDegree > 0
        ? OptionalDouble.of(Math.pow(u, 4) / fourthPerDegree)
        : OptionalDouble.empty();
  }

  private static boolean foldsBack(Walk walk) {
    Stop a = walk.a();
    Stop b = walk.b();
    boolean atOnce = b.v() < a.v() - 3 * Math.hypot(a.uV(), b.uV());
    if (atOnce || walk.beyond() < 2) {
      return atOnce;
    }
    Stop c = walk.stops().get(walk.outside() + 1);
    return c.v() < b.v() - 3 * Math.hypot(b.uV(), c.uV());
  }

  /** V = I R, I at the criterion, R from the last load inside to the first outside. */
  private static ComplianceCrossing folded(Walk walk) {
    Stop a = walk.a();
    Stop b = walk.b();
    double atCriterionA = b.i() / b.y() * walk.level();
    double high = Math.max(a.v(), atCriterionA * b.v() / b.i());
    double relative = Math.hypot(b.uV() / b.v(), b.uI() / b.i());
    return new ComplianceCrossing(
        a.v(),
        high,
        a.uV(),
        high * relative,
        OptionalDouble.empty(),
        degrees(high * relative, b.fourthPerDegree(high / b.i())),
        (a.v() + high) / 2,
        walk.beyond(),
        Shape.FOLDS_BACK);
  }

  private static ComplianceCrossing withOuterLine(
      Walk walk, double low, double lowU, OptionalDouble lowDegrees) {
    Stop b = walk.b();
    Stop c = walk.stops().get(walk.outside() + 1);
    double perA = c.i() == b.i() ? 0 : (c.v() - b.v()) / (c.i() - b.i());
    double targetA = b.i() / b.y() * walk.level();
    double ahead = targetA - b.i();
    double crossing = b.v() + ahead * perA;
    double high = Math.max(low, Math.min(crossing, b.v()));
    double lever = c.i() == b.i() ? 0 : ahead / (b.i() - c.i());
    double highU = uOfOuterLine(b, c, lever, perA);
    double fourth = b.fourthPerDegree(perA * (1 + lever)) + c.fourthPerDegree(perA * lever);
    OptionalDouble highDegrees = degrees(highU, fourth);
    Optional<Bend> bend = walk.beyond() < 3 || perA > 0 ? Optional.empty() : bend(walk, perA);
    if (bend.isPresent() && bend.get().sharp(high - low)) {
      double likely =
          walk.valueAlone() ? 0 : LIKELY / 2 * rounded(walk, perA, bend.get().hiddenV());
      double below = Math.hypot(highU, Math.min(likely, MOST_ROUNDED * highU));
      return new ComplianceCrossing(
          high,
          high,
          below,
          highU,
          degrees(below, fourth),
          highDegrees,
          high,
          walk.beyond(),
          Shape.SHARP);
    }
    return new ComplianceCrossing(
        low,
        high,
        lowU,
        highU,
        lowDegrees,
        highDegrees,
        (low + high) / 2,
        walk.beyond(),
        Shape.ROUND);
  }

  /**
   * How far a third load outside lies from the line through the two nearest.
   *
   * @param bendV magnitude, V
   * @param u what noise may bend it by, V
   */
  private record Bend(double bendV, double u) {
    /**
     * Within three times its u, which must be small beside the enclosure: otherwise noise would
     * hide the rounding of a soft knee, and more noise would give a narrower interval.
     */
    boolean sharp(double enclosureV) {
      return bendV <= BENT * u && BENT * u <= MOST_HIDDEN * enclosureV;
    }

    /** The largest bend that noise may hide. */
    double hiddenV() {
      return bendV + 2 * u;
    }
  }

  /** Carried beyond the nearer load by lever times the distance to the farther. */
  private static double uOfOuterLine(Stop b, Stop c, double lever, double perA) {
    double noise = Math.hypot((1 + lever) * b.noiseV(), lever * c.noiseV());
    double current = perA * Math.hypot((1 + lever) * b.uI(), lever * c.uI());
    return Math.hypot(b.commonV(), Math.hypot(noise, current));
  }

  /**
   * By how much a rounding hidden in the loads outside lowers the crossing: a knee of rounding w
   * departs from its two lines by w ln(1 + exp(-x/w)) at the distance x, so w is at most what
   * leaves the bend unseen at the first load outside, and the criterion is reached earlier by w
   * ln(w/(d I_0 |dV/dI|)).
   */
  private static double rounded(Walk walk, double perA, double hiddenV) {
    Stop b = walk.b();
    double fullA = b.i() / b.y();
    double w = largestRounding((fullA - b.i()) * Math.abs(perA), hiddenV);
    double criterionV = (1 - walk.level()) * fullA * Math.abs(perA);
    double floorV = Math.max(criterionV, 1e-6 * b.v());
    return w > 0 ? w * Math.max(0, Math.log(w / floorV)) + w : 0;
  }

  /** The w with w ln(1 + exp(-x/w)) = bend, which grows with w. */
  private static double largestRounding(double distanceV, double bendV) {
    if (!(bendV > 0)) {
      return 0;
    }
    double low = 0;
    double high = bendV / Math.log(2) + distanceV;
    for (int i = 0; i < 60; i++) {
      double w = (low + high) / 2;
      boolean below = w * Math.log1p(Math.exp(-distanceV / w)) < bendV;
      low = below ? w : low;
      high = below ? high : w;
    }
    return high;
  }

  /** Empty where noise of the current exceeds the criterion, and no knee is known to be sharp. */
  private static Optional<Bend> bend(Walk walk, double perA) {
    Stop b = walk.b();
    if (BENT * b.uY() > 1 - walk.level()) {
      return Optional.empty();
    }
    Stop c = walk.stops().get(walk.outside() + 1);
    Stop e = walk.stops().get(walk.outside() + 2);
    double far = c.i() == b.i() ? 1 : (b.i() - e.i()) / (b.i() - c.i());
    double bendV = e.v() - b.v() - (e.i() - b.i()) * perA;
    double uV = Math.hypot(e.noiseV(), Math.hypot(far * c.noiseV(), (1 - far) * b.noiseV()));
    double uA = Math.hypot(e.uI(), Math.hypot(far * c.uI(), (1 - far) * b.uI()));
    return Optional.of(new Bend(Math.abs(bendV), Math.hypot(uV, perA * uA)));
  }
}
