// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.linearity;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.linearity.CharacteristicLinearity.Knot;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadCurve.Mean;
import millrace.analysis.load.LoadCurve.Standing;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;

/**
 * Linearity of the current over the terminal voltage, from the first point to the datasheet's
 * compliance voltage, on the mean of up and down sweeps, in ppm of I_N (methods.md 4.1). Not over
 * the fitted plateau, which would make linearity look too good. Pure; thread-safe.
 */
public final class LoadLinearity {
  private static final double NEAR = 1.001;
  private static final double SHORT_OF = 0.95;

  private LoadLinearity() {}

  /**
   * Independent, terminal-based and zero-based linearity, and the largest least-squares residual
   * beside (methods.md 4.1).
   *
   * @param points the points of the sweep in any order; may be empty
   * @param question what is asked
   * @return four results; each a value, a bound where noise hides it, or the reason why not
   */
  public static List<Result> of(List<LoadPoint> points, LoadSweepRequest question) {
    Optional<LoadCurve> curve = LoadCurve.of(points, question);
    if (curve.isPresent()) {
      return of(curve.get());
    }
    String reason = LoadCurve.whyNot(points).orElse("no line");
    return CharacteristicLinearity.missing(subject(question), reason, points.size());
  }

  /**
   * The same of a studied sweep (methods.md 4.1).
   *
   * @param curve the sweep
   * @return four results
   */
  public static List<Result> of(LoadCurve curve) {
    LoadSweepRequest question = curve.question();
    List<String> notes = new ArrayList<>();
    double most = mostV(curve, notes);
    List<Knot> knots = knots(curve, most);
    double highest = knots.stream().mapToDouble(Knot::x).max().orElse(0);
    if (question.complianceV().isPresent() && highest < SHORT_OF * most) {
      notes.add(
          "tested up to %s V only, the datasheet promises %s V"
              .formatted(NumberText.significant(highest, 4), NumberText.significant(most, 4)));
    }
    return CharacteristicLinearity.results(
        knots,
        subject(question),
        new CharacteristicLinearity.Axes(Math.abs(question.nominalA()), "V", "V"),
        notes);
  }

  private static List<Knot> knots(LoadCurve curve, double most) {
    List<Knot> knots = new ArrayList<>();
    double slope = curve.conductanceS().value();
    for (Mean mean : curve.means()) {
      double v = Math.abs(mean.voltageV().value());
      boolean counts =
          mean.standing() != Standing.UNSTEADY && mean.standing() != Standing.KNEE_ONLY;
      if (counts && v <= most * NEAR) {
        knots.add(new Knot(v, withVoltage(mean, slope)));
      }
    }
    return knots;
  }

  /**
   * The points and reference lines of linearity, for plotting (methods.md 4.1).
   *
   * @param voltV terminal voltages in rising order, each once, V
   * @param currentA the current at each, A
   * @param independent from the minimax line
   * @param terminal from the line through both end points
   * @param zeroBased from the best line through the first point
   */
  public record Lines(
      List<Double> voltV,
      List<Double> currentA,
      LinearityDeviation independent,
      LinearityDeviation terminal,
      LinearityDeviation zeroBased) {
    /** Copies the lists. */
    public Lines {
      voltV = List.copyOf(voltV);
      currentA = List.copyOf(currentA);
    }
  }

  /**
   * The points and lines of a studied sweep (methods.md 4.1).
   *
   * @param curve the sweep
   * @return empty with fewer than three different voltages
   */
  public static Optional<Lines> lines(LoadCurve curve) {
    List<Knot> knots =
        CharacteristicLinearity.merged(knots(curve, mostV(curve, new ArrayList<>())));
    if (knots.size() < CharacteristicLinearity.LEAST) {
      return Optional.empty();
    }
    double[] x = knots.stream().mapToDouble(Knot::x).toArray();
    double[] y = knots.stream().mapToDouble(k -> k.y().value()).toArray();
    return Optional.of(
        new Lines(
            Arrays.stream(x).boxed().toList(),
            Arrays.stream(y).boxed().toList(),
            LinearityDeviation.independent(x, y),
            LinearityDeviation.terminal(x, y),
            LinearityDeviation.zeroBased(x, y)));
  }

  private static double mostV(LoadCurve curve, List<String> notes) {
    OptionalDouble promised = curve.question().complianceV();
    if (promised.isPresent()) {
      return promised.getAsDouble();
    }
    notes.add("no compliance voltage is promised: over the loads at which the current holds");
    return curve.crossing().map(c -> c.lowV()).orElse(Double.POSITIVE_INFINITY);
  }

  /** An error of V enters multiplied by the slope. */
  private static Estimate withVoltage(Mean mean, double slope) {
    return mean.currentA().plus(mean.voltageV().errorsOnly().times(slope));
  }

  private static Subject subject(LoadSweepRequest q) {
    OptionalDouble t = q.temperatureDegC();
    return new Subject(
        ResultQuantity.LINEARITY_INDEPENDENT,
        Optional.of(q.range()),
        t.isPresent()
            ? ResultConditions.of(ResultConditionKey.TEMPERATURE_DEGC, t.getAsDouble())
            : ResultConditions.NONE,
        Optional.of("I_N"),
        "current over terminal voltage, Methods of Millrace 4.1",
        q.coverage());
  }
}
