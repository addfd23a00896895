// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.settling;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import millrace.analysis.regression.LinearFit;

/**
 * Decides when a unit is at temperature (methods.md 6.1): what is left of the change of the current
 * must be below what is asked, at two looks in a row. Where air and unit are both read and the step
 * was large, the unit's temperature is projected to where it comes to rest ({@link
 * UnitThermalLag}), and the current with it, by its slope over the unit's temperature during this
 * soak. Else I = c + A exp(-t/tau) is fitted over the last 2 tau, or the last eight looks where a
 * range's turn comes seldom. Errors as AR(1) in both. Pure; thread-safe.
 */
public final class SoakJudge {
  private static final int LEAST_SAMPLES = 8;
  private static final double MANY_TAU = 5;

  /** The unit's way to the air is told over the last so many time constants. */
  private static final double FOLLOWED_TAU = 2.5;

  /** A thermometer at the unit may be off by this much from the chamber's, K. */
  private static final double FAR_K = 2;

  /** From here on the unit's temperature counts as ending its change, K. */
  private static final double NEAR_K = 6;

  /** Least temperature step from which a time constant is determined, K. */
  private static final double STEP_K = 8;

  /** Largest usable uncertainty of the unit's final temperature, K. */
  private static final double VAGUE_K = 0.3;

  /** A time constant that differs from the datasheet's by more than this factor is rejected. */
  private static final double TAU_FACTOR = 4;

  /** Air within this span over ten minutes is steady, K. */
  private static final double STEADY_K = 0.15;

  private static final double TEN_MINUTES_S = 600;

  private SoakJudge() {}

  /**
   * One look at the unit.
   *
   * @param timeS since the chamber was set, s
   * @param temperatureDegC of the unit, degC
   * @param airDegC what the chamber shows, degC; empty if it was not read beside the unit's
   * @param relative the current over its nominal value, a ratio; empty if it was not read
   */
  public record Sample(
      double timeS, double temperatureDegC, OptionalDouble airDegC, OptionalDouble relative) {
    /**
     * A look without the air.
     *
     * @param timeS since the chamber was set, s
     * @param temperatureDegC of the unit, degC
     * @param relative the current over its nominal value, a ratio; empty if it was not read
     */
    public Sample(double timeS, double temperatureDegC, OptionalDouble relative) {
      this(timeS, temperatureDegC, OptionalDouble.empty(), relative);
    }
  }

  /**
   * What is asked.
   *
   * @param withinRatio what may be left, a ratio
   * @param measuringS T_m, how long the measurements will take, s; infinite for all that is left
   * @param tauS the datasheet's thermal time constant, s, for where the step of temperature is
   *     small
   * @param setpointDegC where the chamber goes, degC
   * @param bandK how near the unit must be to where it is going, K
   */
  public record Question(
      double withinRatio, double measuringS, double tauS, double setpointDegC, double bandK) {}

  /** What is found. */
  public enum State {
    /** Not enough samples, or too much is left. */
    NOT_YET,
    /** Enough is over. */
    OVER,
    /** More cannot be told from noise, five time constants having passed. */
    WITHIN_NOISE
  }

  /**
   * What is still to come.
   *
   * @param ratio of the current, counted as the current now less the settled one, a ratio
   * @param u its standard uncertainty, a ratio
   * @param temperatureK the same of the unit's temperature, K
   * @param uTemperatureK its standard uncertainty, K
   */
  public record Left(double ratio, double u, double temperatureK, double uTemperatureK) {}

  /**
   * What one look found.
   *
   * @param state the state
   * @param leftRatio what is left over the time of the measurements, with 2 u; a ratio; empty if it
   *     cannot be told
   * @param tauS the time constant that was used, s
   * @param projectedS when it will be over if it goes on like this, s from the first sample; empty
   *     if it cannot be told
   * @param left what is still to come; empty if it cannot be told
   */
  public record Finding(
      State state,
      OptionalDouble leftRatio,
      double tauS,
      OptionalDouble projectedS,
      Optional<Left> left) {}

  /**
   * Looks at what was sampled so far.
   *
   * @param samples in the order of time
   * @param question what is asked
   * @return what is found by this look alone; a soak is over at two looks in a row
   */
  public static Finding look(List<Sample> samples, Question question) {
    Optional<UnitThermalLag> following = following(samples, question);
    double tau =
        following.map(UnitThermalLag::tauS).orElseGet(() -> timeConstantS(samples, question));
    List<Sample> recent = recent(samples, 2 * tau);
    List<Sample> read = recent.stream().filter(s -> s.relative().isPresent()).toList();
    if (read.size() < LEAST_SAMPLES || read.get(0).timeS() == read.get(read.size() - 1).timeS()) {
      return new Finding(
          State.NOT_YET, OptionalDouble.empty(), tau, OptionalDouble.empty(), Optional.empty());
    }
    Left left =
        following
            .flatMap(f -> followed(f, samples, read, question))
            .orElseGet(() -> decaying(recent, read, tau));
    return found(left, samples.get(samples.size() - 1), tau, question);
  }

  private static Finding found(Left left, Sample last, double tau, Question question) {
    double share = -Math.expm1(-question.measuringS() / tau);
    double rest = (Math.abs(left.ratio()) + 2 * left.u()) * share;
    double restK = (Math.abs(left.temperatureK()) + 2 * left.uTemperatureK()) * share;
    double away = Math.abs(last.temperatureDegC() - question.setpointDegC());
    boolean there = away <= FAR_K && restK <= question.bandK();
    boolean noisy = 2 * left.u() * share >= question.withinRatio();
    State state = State.NOT_YET;
    if (there && rest < question.withinRatio()) {
      state = State.OVER;
    } else if (there && last.timeS() > MANY_TAU * tau && noisy) {
      state = State.WITHIN_NOISE;
    }
    OptionalDouble projected = projected(last.timeS(), left, share, tau, question);
    return new Finding(state, OptionalDouble.of(rest), tau, projected, Optional.of(left));
  }

  private static OptionalDouble projected(
      double now, Left left, double share, double tau, Question question) {
    double room = question.withinRatio() / share - 2 * left.u();
    if (room <= 0) {
      return OptionalDouble.empty();
    }
    double more = tau * Math.log(Math.max(1, Math.abs(left.ratio()) / room));
    return OptionalDouble.of(now + more);
  }

  /** How the unit follows the air, where that is told. */
  private static Optional<UnitThermalLag> following(List<Sample> samples, Question question) {
    List<Sample> recent = since(samples, FOLLOWED_TAU * question.tauS());
    if (!moved(samples, question) || recent.stream().anyMatch(s -> s.airDegC().isEmpty())) {
      return Optional.empty();
    }
    double[] air = columns(recent, s -> s.airDegC().orElseThrow());
    return UnitThermalLag.of(times(recent), air, degC(recent))
        .filter(f -> f.uK() < VAGUE_K)
        .filter(f -> f.tauS() < TAU_FACTOR * question.tauS())
        .filter(f -> f.tauS() > question.tauS() / TAU_FACTOR);
  }

  /** The current goes with the unit's temperature, by its slope over the end of the change. */
  private static Optional<Left> followed(
      UnitThermalLag following, List<Sample> samples, List<Sample> read, Question question) {
    List<Sample> last = since(samples, TEN_MINUTES_S);
    double[] air = columns(last, s -> s.airDegC().orElseThrow());
    double rest = following.restDegC(air, question.setpointDegC(), STEADY_K);
    List<Sample> end =
        read.stream().filter(s -> Math.abs(s.temperatureDegC() - rest) < NEAR_K).toList();
    List<Sample> near = end.size() < LEAST_SAMPLES ? read : end;
    double leftK = samples.get(samples.size() - 1).temperatureDegC() - rest;
    double[] above = columns(near, s -> s.temperatureDegC() - rest);
    if (span(above) < STEADY_K) {
      return Optional.empty();
    }
    double[] ones = new double[near.size()];
    Arrays.fill(ones, 1);
    LinearFit fit = LinearFit.of(new double[][] {ones, above}, relative(near), ones);
    double u = Math.hypot(leftK * uSlope(fit), fit.coefficient(1) * following.uK());
    return Optional.of(new Left(fit.coefficient(1) * leftK, u, leftK, following.uK()));
  }

  private static double span(double[] x) {
    return Arrays.stream(x).max().orElse(0) - Arrays.stream(x).min().orElse(0);
  }

  private static double uSlope(LinearFit line) {
    double scatter = Math.sqrt(line.chiSquared() / line.degreesOfFreedom());
    double norm = Math.sqrt(Arrays.stream(line.estimator(1)).map(e -> e * e).sum());
    return scatter * norm * AutocorrelationWidening.factor(line.residuals());
  }

  private static Left decaying(List<Sample> recent, List<Sample> read, double tau) {
    Decay current = Decay.of(times(read), relative(read), tau);
    Decay degC = Decay.of(times(recent), degC(recent), tau);
    return new Left(current.amplitude(), current.u(), degC.amplitude(), degC.u());
  }

  /** A short time constant has few looks at a range; fewer than enough would tell nothing, ever. */
  private static List<Sample> recent(List<Sample> samples, double windowS) {
    double[] read = times(samples.stream().filter(s -> s.relative().isPresent()).toList());
    if (read.length < LEAST_SAMPLES) {
      return samples;
    }
    double enough = read[read.length - LEAST_SAMPLES];
    double from = Math.min(enough, samples.get(samples.size() - 1).timeS() - windowS);
    return samples.stream().filter(s -> s.timeS() >= from).toList();
  }

  private static List<Sample> since(List<Sample> samples, double windowS) {
    double from = samples.isEmpty() ? 0 : samples.get(samples.size() - 1).timeS() - windowS;
    return samples.stream().filter(s -> s.timeS() >= from).toList();
  }

  private static double[] columns(List<Sample> samples, ToDoubleFunction<Sample> of) {
    return samples.stream().mapToDouble(of).toArray();
  }

  private static double[] times(List<Sample> samples) {
    return columns(samples, Sample::timeS);
  }

  private static double[] degC(List<Sample> samples) {
    return columns(samples, Sample::temperatureDegC);
  }

  private static double[] relative(List<Sample> read) {
    return columns(read, s -> s.relative().orElseThrow());
  }

  private static boolean moved(List<Sample> samples, Question question) {
    return !samples.isEmpty()
        && Math.abs(samples.get(0).temperatureDegC() - question.setpointDegC()) > STEP_K;
  }

  /**
   * The datasheet's, or that of the unit's temperature where it moves by tens of kelvin, whichever
   * is longer: what is left of a ramp and of the chamber's overshoot makes the latter too short,
   * and then too little would seem to be left.
   */
  private static double timeConstantS(List<Sample> samples, Question question) {
    List<Sample> tail = tail(samples, question);
    return moved(samples, question) && tail.size() >= 3 * LEAST_SAMPLES
        ? Math.max(question.tauS(), bestTau(tail, question.tauS()))
        : question.tauS();
  }

  /** The samples near the end of the change, no older than a few time constants. */
  private static List<Sample> tail(List<Sample> samples, Question question) {
    double from =
        samples.isEmpty()
            ? 0
            : samples.get(samples.size() - 1).timeS() - MANY_TAU * question.tauS();
    int first = samples.size();
    while (first > 0
        && samples.get(first - 1).timeS() >= from
        && Math.abs(samples.get(first - 1).temperatureDegC() - question.setpointDegC()) < NEAR_K) {
      first--;
    }
    return samples.subList(first, samples.size());
  }

  private static double bestTau(List<Sample> tail, double usual) {
    double[] timeS = times(tail);
    double[] degC = degC(tail);
    double best = usual;
    double least = Double.POSITIVE_INFINITY;
    for (int i = -12; i <= 12; i++) {
      double tau = usual * Math.pow(2, i / 8.0);
      double scatter = Decay.of(timeS, degC, tau).squares();
      if (scatter < least) {
        least = scatter;
        best = tau;
      }
    }
    return best;
  }
}
