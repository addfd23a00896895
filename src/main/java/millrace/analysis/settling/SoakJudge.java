package millrace.analysis.settling;

import java.util.List;
import java.util.OptionalDouble;

/**
 * Decides when a unit is at temperature (measurement.md 6.1): what is left of the change of the
 * current, over the time that the measurements at this temperature will take, must be below what is
 * asked, at two looks in a row. I = c + A exp(-t/tau) is fitted over the last 2 tau, errors as
 * AR(1). Pure; thread-safe.
 */
public final class SoakJudge {
  private static final int LEAST_SAMPLES = 8;
  private static final double MANY_TAU = 5;

  /** A thermometer at the unit may be off by this much from the chamber's, K. */
  private static final double FAR_K = 2;

  /** From here on the unit's temperature counts as ending its change, K. */
  private static final double NEAR_K = 6;

  /** A step of at least this much tells a time constant, K. */
  private static final double STEP_K = 8;

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
    if (recent.size() < LEAST_SAMPLES
        || recent.get(0).timeS() == recent.get(recent.size() - 1).timeS()) {
      return new Finding(State.NOT_YET, OptionalDouble.empty(), tau, OptionalDouble.empty());
    }
    double now = recent.get(recent.size() - 1).timeS();
    Decay decay = Decay.of(times(recent), relative(recent), tau);
    double share = -Math.expm1(-question.measuringS() / tau);
    double left = (Math.abs(decay.amplitude()) + 2 * decay.u()) * share;
    boolean there = temperatureThere(recent, tau, question);
    State state = State.NOT_YET;
    if (there && left < question.withinRatio()) {
      state = State.OVER;
    } else if (there && now > MANY_TAU * tau && 2 * decay.u() * share >= question.withinRatio()) {
      state = State.WITHIN_NOISE;
    }
    return new Finding(
        state, OptionalDouble.of(left), tau, projected(now, decay, share, tau, question));
  }

  private static OptionalDouble projected(
      double now, Decay decay, double share, double tau, Question question) {
    double room = question.withinRatio() / share - 2 * decay.u();
    if (room <= 0) {
      return OptionalDouble.empty();
    }
    double more = tau * Math.log(Math.max(1, Math.abs(decay.amplitude()) / room));
    return OptionalDouble.of(now + more);
  }

  private static double[] relative(List<Sample> recent) {
    return recent.stream().mapToDouble(s -> s.relative().orElseThrow()).toArray();
  }

  private static List<Sample> recent(List<Sample> samples, double windowS) {
    double from = samples.isEmpty() ? 0 : samples.get(samples.size() - 1).timeS() - windowS;
    return samples.stream().filter(s -> s.timeS() >= from && s.relative().isPresent()).toList();
  }

  /** Near where it goes, and what is left of its own change is inside its band. */
  private static boolean temperatureThere(List<Sample> recent, double tau, Question question) {
    double[] degC = recent.stream().mapToDouble(Sample::temperatureDegC).toArray();
    Decay decay = Decay.of(times(recent), degC, tau);
    double share = -Math.expm1(-question.measuringS() / tau);
    double away = Math.abs(degC[degC.length - 1] - question.setpointDegC());
    return away <= FAR_K
        && (Math.abs(decay.amplitude()) + 2 * decay.u()) * share <= question.bandK();
  }

  private static double[] times(List<Sample> samples) {
    return samples.stream().mapToDouble(Sample::timeS).toArray();
  }

  /** From the unit's temperature where it moves by tens of kelvin, else the datasheet's. */
  private static double timeConstantS(List<Sample> samples, Question question) {
    List<Sample> tail = tail(samples, question);
    boolean moved =
        !samples.isEmpty()
            && Math.abs(samples.get(0).temperatureDegC() - question.setpointDegC()) > STEP_K;
    if (!moved || tail.size() < 3 * LEAST_SAMPLES) {
      return question.tauS();
    }
    return bestTau(tail, question.tauS());
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
    double[] degC = tail.stream().mapToDouble(Sample::temperatureDegC).toArray();
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
