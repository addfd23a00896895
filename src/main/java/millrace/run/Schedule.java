package millrace.run;

import java.time.Duration;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conditions;
import millrace.quantity.Spans;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.SequenceFile.ReadingRule;
import millrace.sequence.Task;
import org.jspecify.annotations.Nullable;

/**
 * How long a plan will take, by part: moves of the chamber, soaks, settling, integration. An
 * estimate from usual figures, for preview and for the time left; what is done while it soaks takes
 * no time of its own unless it takes longer than the soak. Immutable.
 */
public final class Schedule {
  /** A meter takes a zero of its own beside each reading. */
  private static final double INTEGRATIONS = 2;

  private static final double PER_READING_S = 0.01;
  private static final double PER_CHANGE_S = 0.1;
  private static final double TRIAL_STOP_S = 0.8;

  /** One look at one unit that soaks. */
  private static final double LOOK_S = 2.5;

  private final Datasheet datasheet;
  private final double lineHz;
  private final Map<String, Double> partsS = new LinkedHashMap<>();
  private final Map<Integer, Double> leftFromS = new HashMap<>();
  private @Nullable Conditions before;

  private Schedule(Plan plan, Datasheet datasheet, double lineHz) {
    this.datasheet = datasheet;
    this.lineHz = lineHz;
    Map<Integer, Meanwhile> meanwhile = new HashMap<>();
    double lookS = LOOK_S * slots(plan);
    Set<Integer> soaked = new HashSet<>();
    double lastDegC = datasheet.referenceTemperatureDegC();
    double[] cost = new double[plan.points().size()];
    for (int i = 0; i < cost.length; i++) {
      PlannedPoint point = plan.points().get(i);
      boolean soaking = point.temperature().filter(Plan.TemperatureRule::soaking).isPresent();
      cost[i] = own(point, soaking);
      if (soaking) {
        boolean knee = point.task() instanceof Task.FindKnee;
        meanwhile.merge(
            point.temperature().orElseThrow().visit(),
            new Meanwhile(cost[i], knee ? cost[i] + lookS : 0),
            Meanwhile::plus);
      } else if (point.temperature().isPresent()) {
        int visit = point.temperature().get().visit();
        if (soaked.add(visit)) {
          cost[i] += soak(point, lastDegC, meanwhile.getOrDefault(visit, new Meanwhile(0, 0)));
          lastDegC = point.conditions().temperatureDegC().orElseThrow();
        }
      }
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
   * @param datasheet gives the thermal time constant and the promised temperature coefficient
   * @param lineHz line frequency, Hz, for integration times
   * @return the schedule
   */
  public static Schedule of(Plan plan, Datasheet datasheet, double lineHz) {
    return new Schedule(plan, datasheet, lineHz);
  }

  /**
   * What is done while it soaks.
   *
   * @param allS all of it, s
   * @param kneesS searches for the knee, with the looks at the units between them, s
   */
  private record Meanwhile(double allS, double kneesS) {
    Meanwhile plus(Meanwhile other) {
      return new Meanwhile(allS + other.allS, kneesS + other.kneesS);
    }
  }

  private static long slots(Plan plan) {
    return Math.max(
        1, plan.points().stream().flatMap(p -> p.conditions().slot().stream()).distinct().count());
  }

  /** Adds move and soak of a stay; what of it is not used by what is done meanwhile, s. */
  private double soak(PlannedPoint point, double fromDegC, Meanwhile meanwhile) {
    ChamberTime chamber = ChamberTime.of(point.temperature().orElseThrow(), datasheet);
    double degC = point.conditions().temperatureDegC().orElseThrow();
    double knees = chamber.withinS(fromDegC, degC, Soak.KNEE_WITHIN_K) + meanwhile.kneesS();
    double all =
        Math.max(
            meanwhile.allS(),
            Math.max(chamber.stayS(fromDegC, degC), meanwhile.kneesS() > 0 ? knees : 0));
    double move = Math.min(all, chamber.moveS(fromDegC, degC));
    add("move", move);
    add("soak", all - move);
    return all - meanwhile.allS();
  }

  private void add(String part, double seconds) {
    partsS.merge(part, seconds, Double::sum);
  }

  private double own(PlannedPoint point, boolean meanwhile) {
    Task task = point.task();
    Optional<Double> spent = spent(task);
    if (spent.isPresent()) {
      if (!meanwhile) {
        add(task.word(), spent.get());
      }
      return spent.get();
    }
    int loads = task instanceof Task.FindKnee knee ? loads(point, knee) : 1;
    double settle = changes(point) ? point.rules().settle().waitS() + PER_CHANGE_S : 0;
    double integrate = integrate(point);
    if (!meanwhile) {
      add("settle", loads * settle);
      add("integrate", loads * integrate);
    }
    return loads * (settle + integrate);
  }

  /** The time of tasks that say it themselves, s. */
  private Optional<Double> spent(Task task) {
    if (task instanceof Task.Watch watch) {
      return Optional.of(watch.spanS());
    } else if (task instanceof Task.Wait wait) {
      return Optional.of(wait.spanS());
    } else if (task instanceof Task.TrialLap) {
      return Optional.of(2 * TRIAL_STOP_S * datasheet.ranges().size());
    }
    return task instanceof Task.Ask ? Optional.of(0.0) : Optional.empty();
  }

  /** Nothing settles where the loop stays as it was. */
  private boolean changes(PlannedPoint point) {
    boolean measures = point.task() instanceof Task.Measure;
    Conditions now = point.conditions();
    Conditions last = before;
    before = measures ? now : null;
    return last == null
        || !measures
        || !now.loadOhm().equals(last.loadOhm())
        || !now.range().equals(last.range())
        || !now.slot().equals(last.slot())
        || !now.supplyV().equals(last.supplyV())
        || !now.setA().equals(last.setA());
  }

  /** A search halves the way from its last load on the plateau to the highest. */
  private int loads(PlannedPoint point, Task.FindKnee knee) {
    double fullV = datasheet.complianceVoltageV(point.conditions().range().orElse("")).orElse(10.0);
    return KneeApproach.expectedLoads(knee, fullV);
  }

  private double integrate(PlannedPoint point) {
    ReadingRule rule = point.rules().readings();
    boolean both = point.task() instanceof Task.Measure || point.task() instanceof Task.FindKnee;
    int readings = rule.count() + (both ? Math.min(rule.count(), rule.voltages()) : 0);
    int ways = rule.reversal() && both ? 2 : 1;
    return ways * readings * (INTEGRATIONS * rule.lineCycles() / lineHz + PER_READING_S);
  }

  /**
   * The time by part.
   *
   * @return seconds by the name of the part
   */
  public Map<String, Double> partsS() {
    return Collections.unmodifiableMap(partsS);
  }

  /**
   * The time of all parts.
   *
   * @return the estimate
   */
  public Duration total() {
    return Spans.ofSeconds(partsS.values().stream().mapToDouble(Double::doubleValue).sum());
  }

  /**
   * The time from a point to the end.
   *
   * @param point a point of the plan
   * @return the estimate
   */
  public Duration leftFrom(PlannedPoint point) {
    return Spans.ofSeconds(leftFromS.getOrDefault(point.ordinal(), 0.0));
  }
}
