package millrace.analysis.settling;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.fit.LinearFit;

/**
 * Decides when a unit is at temperature (measurement.md 6.1): what is left of the change of the
 * current, over the time that the measurements at this temperature will take, must be below what is
 * asked, at two looks in a row. I = c + A exp(-t/tau) is fitted over the last 2 tau, errors as
 * AR(1). Pure; thread-safe.
 */
public final class SoakJudge {
  private static final int LEAST_SAMPLES = 8;
  private static final double MANY_TAU = 5;

  private SoakJudge() {}

  /**
   * One look at the unit.
   *
   * @param timeS since the chamber was set, s
   * @param temperatureDegC of the unit, degC
   * @param relative the current over its nominal value, a ratio; empty if it was not read
   */
  public record Sample(double timeS, double temperatureDegC, OptionalDouble relative) {}

  /**
   * What is asked.
   *
   * @param withinRatio what may be left, a ratio
   * @param measuringS T_m, how long the measurements will take, s
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
   * What one look found.
   *
   * @param state the state
   * @param leftRatio what is left over the time of the measurements, with 2 u; a ratio; empty if it
   *     cannot be told
   * @param tauS the time constant that was used, s
   * @param projectedS when it will be over if it goes on like this, s from the first sample; empty
   *     if it cannot be told
   */
  public record Finding(
      State state, OptionalDouble leftRatio, double tauS, OptionalDouble projectedS) {}

  /**
   * Looks at what was sampled so far.
   *
   * @param samples in the order of time
   * @param question what is asked
   * @return what is found by this look alone; a soak is over at two looks in a row
   */
  public static Finding look(List<Sample> samples, Question question) {
    double tau = timeConstantS(samples, question);
    List<Sample> recent = recent(samples, 2 * tau);
    if (recent.size() < LEAST_SAMPLES) {
      return new Finding(State.NOT_YET, OptionalDouble.empty(), tau, OptionalDouble.empty());
    }
    double now = recent.get(recent.size() - 1).timeS();
    double[] amplitude = amplitude(recent, tau, now);
    double share = -Math.expm1(-question.measuringS() / tau);
    double left = (Math.abs(amplitude[0]) + 2 * amplitude[1]) * share;
    boolean there = temperatureThere(recent, question);
    State state = State.NOT_YET;
    if (there && left < question.withinRatio()) {
      state = State.OVER;
    } else if (there
        && now > MANY_TAU * tau
        && 2 * amplitude[1] * share >= question.withinRatio()) {
      state = State.WITHIN_NOISE;
    }
    return new Finding(
        state, OptionalDouble.of(left), tau, projected(now, amplitude, share, tau, question));
  }

  private static OptionalDouble projected(
      double now, double[] amplitude, double share, double tau, Question question) {
    double room = question.withinRatio() / share - 2 * amplitude[1];
    if (room <= 0) {
      return OptionalDouble.empty();
    }
    double more = tau * Math.log(Math.max(1, Math.abs(amplitude[0]) / room));
    return OptionalDouble.of(now + more);
  }

  private static List<Sample> recent(List<Sample> samples, double windowS) {
    double from = samples.isEmpty() ? 0 : samples.get(samples.size() - 1).timeS() - windowS;
    return samples.stream().filter(s -> s.timeS() >= from && s.relative().isPresent()).toList();
  }

  private static boolean temperatureThere(List<Sample> recent, Question question) {
    Sample last = recent.get(recent.size() - 1);
    double left = Math.abs(last.temperatureDegC() - question.setpointDegC());
    Sample before = recent.get(Math.max(0, recent.size() - LEAST_SAMPLES));
    double moved = Math.abs(last.temperatureDegC() - before.temperatureDegC());
    return left <= 10 * question.bandK() && moved <= question.bandK();
  }

  /** A now and its u, by least squares with tau fixed, u widened for AR(1) residuals. */
  private static double[] amplitude(List<Sample> recent, double tau, double now) {
    int n = recent.size();
    double[] ones = new double[n];
    double[] decay = new double[n];
    double[] y = new double[n];
    double[] u = new double[n];
    for (int i = 0; i < n; i++) {
      ones[i] = 1;
      decay[i] = Math.exp(-(recent.get(i).timeS() - now) / tau);
      y[i] = recent.get(i).relative().getAsDouble();
      u[i] = 1;
    }
    LinearFit fit = LinearFit.of(new double[][] {ones, decay}, y, u);
    double[] residuals = fit.residuals();
    double sum = 0;
    double lagged = 0;
    for (int i = 0; i < n; i++) {
      sum += residuals[i] * residuals[i];
      lagged += i > 0 ? residuals[i] * residuals[i - 1] : 0;
    }
    double r = sum > 0 ? Math.min(0.9, Math.max(0, lagged / sum + 1.0 / n)) : 0;
    double s = Math.sqrt(sum / Math.max(1, fit.degreesOfFreedom()));
    double weights = 0;
    for (double a : fit.estimator(1)) {
      weights += a * a;
    }
    double wide = Math.sqrt((1 + r) / (1 - r));
    return new double[] {fit.coefficient(1), s * Math.sqrt(weights) * wide};
  }

  /** From the unit's temperature where it moves by tens of kelvin, else the datasheet's. */
  private static double timeConstantS(List<Sample> samples, Question question) {
    List<Sample> tail = new ArrayList<>();
    for (Sample s : samples) {
      if (Math.abs(s.temperatureDegC() - question.setpointDegC()) < 6) {
        tail.add(s);
      }
    }
    boolean moved =
        !samples.isEmpty()
            && Math.abs(samples.get(0).temperatureDegC() - question.setpointDegC()) > 8;
    if (!moved || tail.size() < 3 * LEAST_SAMPLES) {
      return question.tauS();
    }
    return bestTau(tail, question.tauS());
  }

  private static double bestTau(List<Sample> tail, double usual) {
    double best = usual;
    double least = Double.POSITIVE_INFINITY;
    for (int i = -12; i <= 12; i++) {
      double tau = usual * Math.pow(2, i / 8.0);
      double scatter = scatter(tail, tau);
      if (scatter < least) {
        least = scatter;
        best = tau;
      }
    }
    return best;
  }

  private static double scatter(List<Sample> tail, double tau) {
    int n = tail.size();
    double start = tail.get(0).timeS();
    double[] ones = new double[n];
    double[] decay = new double[n];
    double[] y = new double[n];
    double[] u = new double[n];
    for (int i = 0; i < n; i++) {
      ones[i] = 1;
      decay[i] = Math.exp(-(tail.get(i).timeS() - start) / tau);
      y[i] = tail.get(i).temperatureDegC();
      u[i] = 1;
    }
    return LinearFit.of(new double[][] {ones, decay}, y, u).chiSquared();
  }
}
