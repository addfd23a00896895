package millrace.run;

import java.time.Duration;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.datasheet.Datasheet;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.SequenceFile.ReadingRule;
import millrace.sequence.Task;

/**
 * How long a plan will take, by part: moves of the chamber, soaks, settling, integration. An
 * estimate from usual figures, for preview and for the time left. Immutable.
 */
public final class Schedule {
  private static final double MOVE_K_PER_S = 2.0 / 60;
  private static final double USUAL_TAU_S = 600;
  private static final double SOAK_TAUS = 4;
  private static final double PER_READING_S = 0.05;
  private static final double PER_CHANGE_S = 0.3;

  private final Map<String, Double> partsS = new java.util.LinkedHashMap<>();
  private final Map<Integer, Double> leftFromS = new HashMap<>();
  private final Map<Integer, Double> measuringS = new HashMap<>();

  private Schedule(Plan plan, Datasheet datasheet, double lineHz) {
    double tau = datasheet.thermalTimeConstant().map(d -> d.toMillis() / 1e3).orElse(USUAL_TAU_S);
    Set<Integer> stays = new HashSet<>();
    double lastDegC = datasheet.referenceTemperatureDegC();
    double[] cost = new double[plan.points().size()];
    int i = 0;
    for (PlannedPoint point : plan.points()) {
      double measuring = integrate(point, lineHz);
      double own = measuring;
      if (point.temperature().isPresent()) {
        int stay = point.temperature().get().visit();
        if (stays.add(stay)) {
          double degC = point.conditions().temperatureDegC().orElseThrow();
          double soak = Math.max(point.temperature().get().soak().leastS(), SOAK_TAUS * tau);
          double move = Math.abs(degC - lastDegC) / MOVE_K_PER_S;
          partsS.merge("move", move, Double::sum);
          partsS.merge(
              "soak", Math.min(soak, point.temperature().get().soak().mostS()), Double::sum);
          own += move + soak;
          lastDegC = degC;
        }
        measuringS.merge(stay, measuring, Double::sum);
      }
      cost[i++] = own;
    }
    double left = 0;
    for (int j = cost.length - 1; j >= 0; j--) {
      left += cost[j];
      leftFromS.put(plan.points().get(j).ordinal(), left);
    }
  }

  /**
   * Estimates a plan.
   *
   * @param plan the plan
   * @param datasheet gives the thermal time constant
   * @param lineHz line frequency, Hz, for integration times
   * @return the schedule
   */
  public static Schedule of(Plan plan, Datasheet datasheet, double lineHz) {
    return new Schedule(plan, datasheet, lineHz);
  }

  private double integrate(PlannedPoint point, double lineHz) {
    Task task = point.task();
    if (task instanceof Task.Watch watch) {
      partsS.merge("watch", watch.spanS(), Double::sum);
      return watch.spanS();
    }
    if (task instanceof Task.Wait wait) {
      partsS.merge("wait", wait.spanS(), Double::sum);
      return wait.spanS();
    }
    ReadingRule rule = point.rules().readings();
    double readings = rule.count() * (4 * rule.lineCycles() / lineHz + PER_READING_S);
    double settle = point.rules().settle().waitS() + PER_CHANGE_S;
    partsS.merge("settle", settle, Double::sum);
    partsS.merge("integrate", readings, Double::sum);
    return readings + settle;
  }

  /**
   * The time by part.
   *
   * @return seconds by the name of the part
   */
  public Map<String, Double> partsS() {
    return java.util.Collections.unmodifiableMap(partsS);
  }

  /**
   * The time of all parts.
   *
   * @return the estimate
   */
  public Duration total() {
    return seconds(partsS.values().stream().mapToDouble(Double::doubleValue).sum());
  }

  /**
   * The time from a point to the end.
   *
   * @param point a point of the plan
   * @return the estimate
   */
  public Duration leftFrom(PlannedPoint point) {
    return seconds(leftFromS.getOrDefault(point.ordinal(), 0.0));
  }

  /** How long the measurements of one stay take, the soak left out. */
  Duration measuring(int stay) {
    return seconds(measuringS.getOrDefault(stay, 60.0));
  }

  private static Duration seconds(double s) {
    return Duration.ofMillis(Math.round(s * 1000));
  }

  /**
   * The names of the parts.
   *
   * @return in the order of the plan
   */
  public List<String> parts() {
    return List.copyOf(partsS.keySet());
  }
}
