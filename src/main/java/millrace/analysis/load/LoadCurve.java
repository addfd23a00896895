// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.DoubleUnaryOperator;
import java.util.function.Function;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.quantity.NumberText;

/**
 * A load sweep of one range at one temperature: which points are plateau, the line through them,
 * and where the current falls away from it (methods.md 3.1 to 3.3). Immutable and thread-safe.
 */
public final class LoadCurve {
  /** Least number of different loads for a line. */
  public static final int LEAST_LOADS = PlateauMembership.LEAST;

  private static final double SAFE_SHARE = 0.8;
  private static final int MOST_ROUNDS = 20;
  private static final double STEEP = 0.2;

  /** A current below this share of the lowest load's has fallen. */
  private static final double FALLEN = 0.99;

  private static final double LOW = 0.9;

  /** Below this share of the nominal current no current flows. */
  private static final double NOTHING = 1e-3;

  private static final double ARITHMETIC = 1e-14;
  private static final double REFERENCE_REACH = 0.02;

  private final LoadSweepRequest question;
  private final List<EqualLoadPoints> all;
  private final List<EqualLoadPoints> steady;
  private final List<String> notes = new ArrayList<>();
  private PlateauLine line;
  private List<EqualLoadPoints> plateau;
  private Optional<ComplianceCrossing> crossing = Optional.empty();

  private final boolean curved;
  private final SweepDecisions decisions;

  /** Of a sweep of a trial the one that was measured. */
  private final Optional<LoadCurve> measured;

  private LoadCurve(
      List<EqualLoadPoints> all, List<EqualLoadPoints> steady, LoadSweepRequest question) {
    this.question = question;
    this.measured = Optional.empty();
    this.all = all;
    this.steady = steady;
    List<EqualLoadPoints> members = PlateauMembership.of(lineable(steady), question);
    this.plateau = members;
    this.line = PlateauLine.of(EqualLoadPoints.flat(members));
    refine(members);
    this.curved = line.curved();
    this.decisions = new SweepDecisions(all, plateau, line);
    this.notes.addAll(LoadCurveNotes.of(all, steady, line, plateauSpanV()));
  }

  /**
   * Studies a sweep (methods.md 3.1 to 3.3).
   *
   * @param points the points, in any order
   * @param question what is asked
   * @return the curve; empty where {@link #whyNot} gives a reason
   */
  public static Optional<LoadCurve> of(List<LoadPoint> points, LoadSweepRequest question) {
    if (whyNot(points).isPresent()) {
      return Optional.empty();
    }
    List<EqualLoadPoints> all = EqualLoadPoints.of(points);
    return Optional.of(new LoadCurve(all, steady(all), question));
  }

  /**
   * The same curve for randomly perturbed points, with the plateau and curvature decided here.
   *
   * @param moved the points of this sweep, by their keys
   * @param asked what is asked of them
   * @return their curve
   */
  public LoadCurve again(List<LoadPoint> moved, LoadSweepRequest asked) {
    return new LoadCurve(decisions.loads(moved), asked, this);
  }

  /**
   * The line alone of {@link #again}, where nothing else is asked.
   *
   * @param moved points of this sweep, those of its line among them, by their keys
   * @return the current by that line at a voltage, A; empty where a point of the line is missing
   */
  public Optional<DoubleUnaryOperator> lineAgain(List<LoadPoint> moved) {
    return decisions.lineAmong(moved).map(l -> l::at);
  }

  private LoadCurve(SweepDecisions.Loads loads, LoadSweepRequest question, LoadCurve decided) {
    this.question = question;
    this.measured = Optional.of(decided);
    this.all = loads.all();
    this.steady = steady(all);
    this.plateau = loads.plateau();
    this.decisions = decided.decisions;
    this.line = decisions.line(plateau);
    this.curved = decided.curved;
    this.crossing = ComplianceCrossing.find(steady, line, question);
  }

  private LoadCurve(LoadCurve same, LoadSweepRequest question) {
    this.question = question;
    this.measured = same.measured;
    this.all = same.all;
    this.steady = same.steady;
    this.plateau = same.plateau;
    this.line = same.line;
    this.curved = same.curved;
    this.decisions = same.decisions;
    this.crossing = same.crossing;
    this.notes.addAll(same.notes);
  }

  /**
   * The same sweep with another conductance of the fixture, which nothing else depends on.
   *
   * @param conductanceS of the fixture, S
   * @return the curve
   */
  public LoadCurve withFixture(Estimate conductanceS) {
    return new LoadCurve(this, question.withFixture(conductanceS));
  }

  /**
   * In a trial, what each steady load weighs in the fit of the knee, A; else none.
   *
   * @param computed gives the weights of a measured sweep
   */
  double[] decidedKneeWeightsA(Function<LoadCurve, double[]> computed) {
    return measured
        .map(m -> decisions.kneeWeightsA(() -> computed.apply(m)))
        .orElseGet(() -> new double[0]);
  }

  private static List<EqualLoadPoints> lineable(List<EqualLoadPoints> steady) {
    return steady.stream().filter(l -> !l.kneeOnly()).toList();
  }

  private static List<EqualLoadPoints> steady(List<EqualLoadPoints> all) {
    for (EqualLoadPoints load : all) {
      if (load.unsteady()) {
        return all.stream().filter(l -> !l.unsteady()).toList();
      }
    }
    return all;
  }

  /**
   * Why a sweep has no line.
   *
   * @param points the points
   * @return the reason; empty if it has one
   */
  public static Optional<String> whyNot(List<LoadPoint> points) {
    List<EqualLoadPoints> steady = lineable(steady(EqualLoadPoints.of(points)));
    if (steady.size() < LEAST_LOADS) {
      return Optional.of(
          "%s with steady readings, needs at least %s: add loads to the sweep"
              .formatted(NumberText.counted(steady.size(), "load"), LEAST_LOADS));
    }
    List<EqualLoadPoints> seed = steady.subList(0, LEAST_LOADS);
    double low = seed.stream().mapToDouble(EqualLoadPoints::magnitudeV).min().orElse(0);
    double high = seed.stream().mapToDouble(EqualLoadPoints::magnitudeV).max().orElse(0);
    return high - low <= 1e-9 * high ? Optional.of(noSlope(seed, high)) : Optional.empty();
  }

  private static String noSlope(List<EqualLoadPoints> seed, double atV) {
    double first = Math.abs(seed.get(0).mean().value());
    double last = Math.abs(seed.get(seed.size() - 1).mean().value());
    return last < FALLEN * first
        ? "the voltage stands at %s while the current falls: all loads lie past the knee, add lower ones"
            .formatted(volt(atV))
        : "the loads do not differ in voltage, so the slope cannot be computed: add loads that do";
  }

  /** Fits over the points up to 0.8 V_c and finds V_c again, until neither changes. */
  private void refine(List<EqualLoadPoints> members) {
    Set<List<EqualLoadPoints>> seen = new HashSet<>();
    for (int round = 0; round < MOST_ROUNDS && seen.add(plateau); round++) {
      crossing = ComplianceCrossing.find(steady, line, question);
      double most = crossing.map(c -> SAFE_SHARE * c.valueV()).orElse(Double.POSITIVE_INFINITY);
      List<EqualLoadPoints> inside = members.stream().filter(l -> l.magnitudeV() <= most).toList();
      if (inside.size() < LEAST_LOADS || inside.equals(plateau)) {
        return;
      }
      plateau = inside;
      line = PlateauLine.of(EqualLoadPoints.flat(plateau));
    }
    crossing = ComplianceCrossing.find(steady, line, question);
  }

  private static String volt(double v) {
    return NumberText.significant(v, 4) + " V";
  }

  /**
   * Why there is no plateau to count from: practically no current flows, or it falls by a fifth
   * over the line's span and is far below nominal at the lowest load already.
   *
   * @return the reason; empty if there is a plateau
   */
  public Optional<String> noPlateau() {
    double nominal = Math.abs(question.nominalA());
    if (Math.abs(line.i0().value()) < NOTHING * nominal) {
      return Optional.of("no current flows, so there is nothing that could fall");
    }
    double[] span = plateauSpanV();
    double fall = Math.abs(line.g().value()) * (span[1] - span[0]);
    double first = Math.abs(steady.get(0).i());
    return fall > STEEP * first && first < LOW * nominal
        ? Optional.of(
            "the current falls from the lowest load on, so there is no plateau: start the sweep at"
                + " lower loads")
        : Optional.empty();
  }

  /** Whether a conductance changes the current over the plateau by no more than numerical error. */
  boolean negligible(double conductanceS) {
    double[] span = plateauSpanV();
    return conductanceS * (span[1] - span[0]) <= ARITHMETIC * Math.abs(line.i0().value());
  }

  /** Lowest and highest voltage of the line, V. */
  private double[] plateauSpanV() {
    double low = plateau.isEmpty() ? 0 : Double.POSITIVE_INFINITY;
    double high = 0;
    for (EqualLoadPoints load : plateau) {
      low = Math.min(low, load.magnitudeV());
      high = Math.max(high, load.magnitudeV());
    }
    return new double[] {low, high};
  }

  /**
   * Tells whether the plateau is no straight line within the points' uncertainties.
   *
   * @return true if the scatter exceeds its 95 % bound or the plateau is bent
   */
  public boolean curved() {
    return curved;
  }

  /**
   * The question that was asked.
   *
   * @return the question
   */
  public LoadSweepRequest question() {
    return question;
  }

  /** Role of a load in the line fit. */
  public enum Standing {
    /** The line goes through it. */
    PLATEAU,
    /** The current holds there, but the load is not in the line fit. */
    HOLDS,
    /** The current has fallen by the criterion or more. */
    FALLEN,
    /** Its readings scatter abnormally; it is left out. */
    UNSTEADY,
    /** It was taken while the unit still came to temperature: it serves for the knee alone. */
    KNEE_ONLY
  }

  /**
   * The points of one load, up and down and repeated, as one.
   *
   * @param loadOhm what the load was set to, ohm; empty where only the voltage is known
   * @param voltageV mean voltage at the terminals, V
   * @param currentA mean current, A
   * @param n of how many points
   * @param standing its role in the line fit
   */
  public record Mean(
      OptionalDouble loadOhm, Estimate voltageV, Estimate currentA, int n, Standing standing) {}

  /**
   * The sweep, one entry per load (methods.md 3.2, 4.1).
   *
   * @return in rising load
   */
  public List<Mean> means() {
    List<Mean> means = new ArrayList<>(all.size());
    int ofLine = 0;
    for (EqualLoadPoints load : all) {
      boolean member = ofLine < plateau.size() && plateau.get(ofLine).name().equals(load.name());
      ofLine += member ? 1 : 0;
      means.add(
          new Mean(
              load.points().get(0).loadOhm(),
              load.meanV(),
              load.mean(),
              load.points().size(),
              standing(load, member)));
    }
    return means;
  }

  private Standing standing(EqualLoadPoints load, boolean member) {
    if (load.unsteady()) {
      return Standing.UNSTEADY;
    } else if (load.kneeOnly()) {
      return Standing.KNEE_ONLY;
    } else if (member) {
      return Standing.PLATEAU;
    }
    return load.i() / expected(load) > 1 - question.criterion() ? Standing.HOLDS : Standing.FALLEN;
  }

  /** Reference of the fall at a load, A. */
  private double expected(EqualLoadPoints load) {
    return question.fromLine() ? line.at(load.v()) : line.i0().value();
  }

  /**
   * The points through which the line goes.
   *
   * @return in rising load
   */
  public List<LoadPoint> plateau() {
    return EqualLoadPoints.flat(plateau);
  }

  /**
   * Every point.
   *
   * @return in rising load
   */
  public List<LoadPoint> points() {
    return EqualLoadPoints.flat(all);
  }

  /**
   * Current into a short (methods.md 3.1).
   *
   * @return I_0, A
   */
  public Estimate shortCurrentA() {
    return line.i0();
  }

  /** Whether a drift over time was fitted beside the line. */
  boolean timed() {
    return line.timeTerm();
  }

  /**
   * Output conductance with the fixture's taken off (methods.md 3.1).
   *
   * @return G = -dI/dV, S
   */
  public Estimate conductanceS() {
    return line.g().minus(question.fixtureS());
  }

  /**
   * The plateau line at a voltage (methods.md 3.1).
   *
   * @param voltageV V
   * @return A
   */
  public Estimate currentAtA(double voltageV) {
    return line.estimateAt(voltageV);
  }

  /**
   * The value of the plateau line at a voltage.
   *
   * @param voltageV V
   * @return A
   */
  public double lineAtA(double voltageV) {
    return isDrawn() ? line.at(voltageV) : line.estimateAt(voltageV).value();
  }

  /** Whether this is a sweep of a trial, of whose results no uncertainty is asked. */
  boolean isDrawn() {
    return line.i0().isDrawn();
  }

  /**
   * The terminal voltage at which the current is promised: of the reference itself, or where the
   * line meets the reference load, I_0 R/(1 + G R) (methods.md 3.7).
   *
   * @return V
   */
  public double referenceV() {
    LoadSweepRequest.Reference where = question.reference();
    if (where.isVoltage()) {
      return where.value();
    }
    double r = where.value();
    return line.i0().value() * r / (1 + line.g().value() * r);
  }

  /**
   * The current where it is promised: from the line, or on a curved plateau from the points there
   * (methods.md 3.7).
   *
   * @return A
   */
  public Estimate referenceCurrentA() {
    return referenceCurrentA(curved());
  }

  /**
   * The same, as decided for all sweeps of a range together: one in twenty straight sweeps looks
   * curved by chance, and a single point is then less accurate than the line.
   *
   * @param byPoints true to take it from the points there
   * @return A
   */
  public Estimate referenceCurrentA(boolean byPoints) {
    double v = referenceV();
    if (!byPoints) {
      return line.estimateAt(v);
    }
    Estimate there = fromPoints(Math.abs(v));
    ErrorSource scatter =
        ErrorSource.normal(
            "scatter about the fit", ErrorSource.POINT, "reference", line.scatterA(), "A");
    return line.scaledByResiduals() ? there.with(scatter, 1) : there;
  }

  private Estimate fromPoints(double magnitudeV) {
    for (EqualLoadPoints load : plateau) {
      double reach = REFERENCE_REACH * Math.max(magnitudeV, plateauSpanV()[1]);
      if (Math.abs(load.magnitudeV() - magnitudeV) <= reach) {
        return load.mean();
      }
    }
    for (int i = 1; i < plateau.size(); i++) {
      EqualLoadPoints a = plateau.get(i - 1);
      EqualLoadPoints b = plateau.get(i);
      if (a.magnitudeV() < magnitudeV && magnitudeV < b.magnitudeV()) {
        double share = (magnitudeV - a.magnitudeV()) / (b.magnitudeV() - a.magnitudeV());
        return a.mean().times(1 - share).plus(b.mean().times(share));
      }
    }
    return line.estimateAt(Math.copySign(magnitudeV, steady.get(steady.size() - 1).v()));
  }

  /**
   * Where the current falls away (methods.md 3.3).
   *
   * @return the crossing of the criterion; empty if it was not reached
   */
  public Optional<ComplianceCrossing> crossing() {
    return crossing;
  }

  /**
   * The highest voltage up to which the current is known to hold, where the criterion was not
   * reached (methods.md 3.3).
   *
   * @return V, magnitude
   */
  public double highestV() {
    double level = 1 - question.criterion();
    double highest = plateauSpanV()[1];
    double unknown = line.scatterA();
    for (EqualLoadPoints load : steady) {
      double reference = expected(load);
      double u = 2 * (load.uI() > 0 ? load.uI() : unknown) / Math.abs(reference);
      if (load.i() / reference - u > level) {
        highest = Math.max(highest, load.magnitudeV());
      }
    }
    return highest;
  }

  /**
   * Remarks for the reader.
   *
   * @return whole sentences
   */
  public List<String> notes() {
    return List.copyOf(notes);
  }
}
