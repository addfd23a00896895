// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.time.Duration;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import millrace.datasheet.Datasheet;
import millrace.evidence.PointConditions;
import millrace.quantity.TimeSpanSeconds;
import millrace.sequence.MeasuringRules.ReadingRule;
import millrace.sequence.Plan.PlannedPoint;
import org.jspecify.annotations.Nullable;

/**
 * How long a plan will take, by part: moves of the chamber, soaks, settling, integration. An
 * estimate from usual figures, for preview and for the time left. Points that are taken during a
 * soak take no time of their own unless they take longer than the soak. Immutable.
 */
public final class Schedule {
  private static final double TRIAL_STOP_S = 0.8;

  private final Plan plan;
  private final Datasheet datasheet;
  private final BenchSpeeds benchSpeeds;
  private final SettlingTime settling;
  private final Map<String, Double> partsS = new LinkedHashMap<>();
  private final Map<Integer, Double> leftFromS = new HashMap<>();
  private @Nullable PointConditions before;

  /** The time of the points so far, s. */
  private double soFarS;

  private Schedule(Plan plan, Datasheet datasheet, BenchSpeeds benchSpeeds) {
    this.plan = plan;
    this.datasheet = datasheet;
    this.benchSpeeds = benchSpeeds;
    this.settling = new SettlingTime(benchSpeeds);
    Map<Integer, Meanwhile> meanwhile = new HashMap<>();
    double lookS = ChamberTime.LOOK_S * slots(plan);
    Set<Integer> soaked = new HashSet<>();
    double lastDegC = datasheet.referenceTemperatureDegC();
    double[] cost = new double[plan.points().size()];
    for (int i = 0; i < cost.length; i++) {
      PlannedPoint point = plan.points().get(i);
      boolean soaking = point.temperature().filter(Plan.TemperatureRule::soaking).isPresent();
      cost[i] = own(point, soaking);
      if (soaking) {
        boolean knee = point.task().traits().contains(Task.Trait.NEAR);
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
      soFarS += soaking ? 0 : cost[i];
    }
    double left = 0;
    for (int j = cost.length - 1; j >= 0; j--) {
      left += cost[j];
      leftFromS.put(plan.points().get(j).number(), left);
    }
  }

  /**
   * Estimates a plan.
   *
   * @param plan the plan
   * @param datasheet gives the thermal time constant and the promised temperature coefficient
   * @param benchSpeeds how fast the bench goes
   * @return the schedule
   */
  public static Schedule of(Plan plan, Datasheet datasheet, BenchSpeeds benchSpeeds) {
    return new Schedule(plan, datasheet, benchSpeeds);
  }

  /**
   * The points that are taken during a soak.
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

  /** Adds move and soak of a stay; returns the part of them in which no points are taken, s. */
  private double soak(PlannedPoint point, double fromDegC, Meanwhile meanwhile) {
    ChamberTime chamber =
        ChamberTime.of(point.temperature().orElseThrow(), plan, datasheet, benchSpeeds);
    double degC = point.conditions().temperatureDegC().orElseThrow();
    double knees = chamber.withinS(fromDegC, degC, ChamberTime.KNEE_WITHIN_K) + meanwhile.kneesS();
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
    Map<String, Double> parts = point.task().accept(new OneTask(point));
    if (!meanwhile) {
      parts.forEach(this::add);
    }
    return parts.values().stream().mapToDouble(Double::doubleValue).sum();
  }

  /** The time of one task by part, s. */
  private final class OneTask implements Task.Visitor<Map<String, Double>> {
    private final PlannedPoint point;

    OneTask(PlannedPoint point) {
      this.point = point;
    }

    private Map<String, Double> parts(double settleS, double integrateS) {
      Map<String, Double> parts = new LinkedHashMap<>();
      parts.put("settle", settleS);
      parts.put("integrate", integrateS);
      return parts;
    }

    private Map<String, Double> readings(int loads, boolean changes) {
      int settles = (changes ? 1 : 0) + (point.rules().readings().reversal() ? 2 : 0);
      return parts(loads * settles * settling.loopS(point), loads * integrate(point, true));
    }

    /** After it the loop is no longer as the last measurement left it. */
    private Map<String, Double> disturbing(int loads) {
      before = null;
      return readings(loads, true);
    }

    private Map<String, Double> quiet(double settleS, int times, boolean both) {
      before = null;
      return parts(settleS, times * integrate(point, both));
    }

    private Map<String, Double> itself(double seconds) {
      return Map.of(point.task().word(), seconds);
    }

    @Override
    public Map<String, Double> measure(Task.Measure task) {
      return readings(1, changes(point.conditions()));
    }

    @Override
    public Map<String, Double> zero(Task.Zero task) {
      return quiet(settling.zeroS(point), 1, false);
    }

    /** It has a zero of its own just before. */
    @Override
    public Map<String, Double> checkStandard(Task.CheckStandard task) {
      return quiet(settling.zeroS(point) + settling.waitS(point), 2, false);
    }

    @Override
    public Map<String, Double> findKnee(Task.FindKnee task) {
      return disturbing(loads(point, task));
    }

    @Override
    public Map<String, Double> watch(Task.Watch task) {
      return itself(task.spanS(soFarS).orElse(0.0));
    }

    @Override
    public Map<String, Double> sourceOff(Task.SourceOff task) {
      return quiet(settling.waitS(point), 1, true);
    }

    @Override
    public Map<String, Double> knownResistor(Task.KnownResistor task) {
      return disturbing(1);
    }

    @Override
    public Map<String, Double> trialLap(Task.TrialLap task) {
      return itself(2 * TRIAL_STOP_S * datasheet.ranges().size());
    }

    @Override
    public Map<String, Double> ask(Task.Ask task) {
      return itself(task.spanS());
    }

    @Override
    public Map<String, Double> waits(Task.Wait task) {
      return itself(task.spanS());
    }
  }

  /** Nothing settles where the loop stays as it was. */
  private boolean changes(PointConditions now) {
    PointConditions last = before;
    before = now;
    return last == null
        || !now.loadOhm().equals(last.loadOhm())
        || !now.range().equals(last.range())
        || !now.slot().equals(last.slot())
        || !now.supplyV().equals(last.supplyV())
        || !now.setA().equals(last.setA());
  }

  /** A search bisects between its last load on the plateau and the highest. */
  private int loads(PlannedPoint point, Task.FindKnee knee) {
    double fullV = datasheet.complianceVoltageV(point.conditions().range().orElse("")).orElse(10.0);
    return knee.expectedLoads(fullV);
  }

  /** Current and voltage together. */
  private double integrate(PlannedPoint point, boolean both) {
    ReadingRule rule = point.rules().readings();
    int readings = rule.count() + (both ? Math.min(rule.count(), rule.voltages()) : 0);
    int ways = rule.reversal() && both ? 2 : 1;
    return ways * readings * benchSpeeds.readingS(rule.lineCycles());
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
    return TimeSpanSeconds.ofSeconds(
        partsS.values().stream().mapToDouble(Double::doubleValue).sum());
  }

  /**
   * The time from a point to the end.
   *
   * @param point a point of the plan
   * @return the estimate
   */
  public Duration leftFrom(PlannedPoint point) {
    return TimeSpanSeconds.ofSeconds(leftFromS.getOrDefault(point.number(), 0.0));
  }
}
