// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge.Question;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.bench.Bench;
import millrace.bench.role.Chamber;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.datasheet.Datasheet;
import millrace.evidence.IncidentKind;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.interlock.RemoteRequestHandler;
import millrace.run.journal.RunContext;
import millrace.run.reading.RunComponents;
import millrace.run.trial.WiringFaultFinder;
import millrace.sequence.ChamberTime;
import millrace.sequence.MeasuringRules.OnFailure;
import millrace.sequence.MeasuringRules.SoakRule;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;
import org.jspecify.annotations.Nullable;

/**
 * Brings the units to a temperature and decides from measurements when they have settled
 * (methods.md 6.1). Other points may be taken during a soak, as long as {@link #lookIfDue} is
 * called between them. Single-threaded.
 */
public final class Soak {
  /** A unit farther from its set point than this is read less often, K. */
  private static final double FAR_K = 6;

  private static final int SELDOM = 3;

  private final Bench bench;
  private final Datasheet datasheet;
  private final RunComponents workers;
  private final RemoteRequestHandler remoteRequestHandler;
  private @Nullable Stay now;
  private int chamberEpoch;
  private int naps;

  /**
   * The soaks of one run.
   *
   * @param setting what the run was given
   * @param workers who sets, reads and waits
   * @param remoteRequestHandler takes requests from other terminals during a soak
   */
  public Soak(
      RunContext setting, RunComponents workers, RemoteRequestHandler remoteRequestHandler) {
    this.bench = setting.bench();
    this.datasheet = setting.datasheet();
    this.workers = workers;
    this.remoteRequestHandler = remoteRequestHandler;
  }

  /** A stay whose soak has begun. */
  private static final class Stay {
    private final PlannedPoint point;
    private final int visit;
    private final TemperatureRule rule;
    private final Question question;
    private final double setpointDegC;
    private final List<SoakedUnit> units = new ArrayList<>();
    private Duration nextLook = Duration.ZERO;

    Stay(PlannedPoint point, Question question) {
      this.point = point;
      this.question = question;
      rule = point.temperature().orElseThrow();
      visit = rule.visit();
      setpointDegC = point.conditions().temperatureDegC().orElseThrow();
    }

    boolean isOver() {
      return units.stream().allMatch(u -> u.end().isPresent());
    }

    void look() {
      units.forEach(u -> u.look(rule.soak(), question));
    }
  }

  /**
   * Tells whether the chamber still has its set point: neither its link nor the soak was
   * interrupted.
   */
  public boolean holds() {
    return epoch() == chamberEpoch && workers.waiting().naps() == naps;
  }

  private int epoch() {
    return bench
        .nameIn(RoleName.CHAMBER)
        .map(name -> bench.instruments().get(name).epoch())
        .orElse(0);
  }

  /** What the soak before a point is called; each range that is watched adds its name. */
  public static String key(PlannedPoint point) {
    int stay = point.temperature().orElseThrow().visit() + 1;
    return "soak " + stay + " " + point.path().get(0);
  }

  /** The criterion of the soak before a point. */
  static Question question(PlannedPoint point, Datasheet datasheet) {
    SoakRule rule = point.temperature().orElseThrow().soak();
    return new Question(
        rule.withinRatio(),
        Double.POSITIVE_INFINITY,
        ChamberTime.tauS(datasheet),
        point.conditions().temperatureDegC().orElseThrow(),
        rule.bandK());
  }

  /** Whether a stay is soaking now. */
  public boolean goesOn(int visit) {
    return now != null && now.visit == visit && holds();
  }

  /**
   * Sets the chamber to a temperature and begins to watch the units.
   *
   * @param key the key of the stay
   * @param watched the points whose current is watched, of each unit one per range; a bench without
   *     a chamber watches none
   */
  public void begin(String key, List<PlannedPoint> watched) {
    leave("the soak was left before it was over");
    Optional<Chamber> chamber = bench.in(RoleName.CHAMBER, Chamber.class);
    if (chamber.isEmpty() || watched.isEmpty()) {
      return;
    }
    Stay stay = new Stay(watched.get(0), question(watched.get(0), datasheet));
    workers.waiting().beforeCooling(stay.setpointDegC);
    chamber
        .get()
        .setpoint(stay.setpointDegC, BenchSpeedsFromFile.of(bench.file()).rampKPerS(stay.rule));
    chamberEpoch = epoch();
    naps = workers.waiting().naps();
    Map<String, List<PlannedPoint>> bySlot = new LinkedHashMap<>();
    for (PlannedPoint point : watched) {
      bySlot
          .computeIfAbsent(point.conditions().slot().orElse(""), s -> new ArrayList<>())
          .add(point);
    }
    bySlot.values().forEach(points -> stay.units.add(new SoakedUnit(workers, points)));
    now = stay;
    orBrokenOff(() -> stay.units.forEach(u -> u.begin(key)));
    stay.nextLook = workers.journal().elapsed().plus(every(stay));
  }

  /**
   * A soak that is interrupted by an instrument or an observation is begun again; its samples are
   * kept with the reason.
   */
  private void orBrokenOff(Runnable work) {
    try {
      work.run();
    } catch (InstrumentException | InterlockException e) {
      leave("the soak was broken off: " + e.getMessage());
      throw e;
    }
  }

  /** A soak that is no longer wanted leaves its records flagged. */
  private void leave(String why) {
    if (now != null) {
      now.units.forEach(u -> u.close(Optional.of(why)));
    }
    now = null;
  }

  /** Time until the next look; longer while all units are far from their temperature. */
  private static Duration every(Stay stay) {
    boolean far = stay.units.stream().noneMatch(u -> u.isWithin(FAR_K));
    return TimeSpanSeconds.ofSeconds(stay.rule.soak().everyS() * (far ? SELDOM : 1));
  }

  /** Looks at the units if it is time to. */
  public void lookIfDue() {
    Stay stay = now;
    if (stay != null && workers.journal().elapsed().compareTo(stay.nextLook) >= 0) {
      orBrokenOff(stay::look);
      if (remoteRequestHandler.unwanted(stay.point)) {
        stay.units.forEach(SoakedUnit::skipped);
      }
      stay.nextLook = workers.journal().elapsed().plus(every(stay));
    }
  }

  /** Soaks until every unit is near its temperature or its soak has ended. */
  public void comeNear(double nearK) {
    Stay stay = now;
    while (stay != null && stay.units.stream().anyMatch(u -> !u.isWithin(nearK))) {
      workers.waiting().sleep(stay.nextLook.minus(workers.journal().elapsed()));
      lookIfDue();
    }
  }

  /**
   * Soaks until every unit has settled or the time limit is reached.
   *
   * @return how it ended, by slot (empty text for a unit without one); empty if none soaked
   */
  public Map<String, SoakEnd> finish() {
    Stay stay = now;
    if (stay == null) {
      return Map.of();
    }
    while (!stay.isOver()) {
      workers.waiting().sleep(stay.nextLook.minus(workers.journal().elapsed()));
      lookIfDue();
    }
    now = null;
    Map<String, SoakEnd> ends = new LinkedHashMap<>();
    for (SoakedUnit unit : stay.units) {
      SoakEnd end = unit.end().orElseThrow();
      unit.close(end.trouble());
      workers.journal().incident(unit.slot(), IncidentKind.SOAK, end.text());
      ends.put(unit.slot().orElse(""), end);
    }
    refuse(stay, ends);
    thermometer(stay.units.get(0).samples(), stay.setpointDegC)
        .ifPresent(
            text -> {
              workers.journal().incident(Optional.empty(), IncidentKind.CAUTION, text);
              ends.replaceAll(
                  (slot, end) -> end.trouble().isPresent() ? end : SoakEnd.doubtful(text));
            });
    return ends;
  }

  private static void refuse(Stay stay, Map<String, SoakEnd> ends) {
    boolean stops = stay.rule.soak().whenBoundHit() == OnFailure.STOP;
    for (SoakEnd end : ends.values()) {
      if (stops && end.how() == SoakEnd.How.BOUND_HIT) {
        throw new InterlockException(
            end.text() + ". The sequence says stop. Allow a longer soak, or look at the chamber.");
      }
    }
  }

  /**
   * A thermometer that did not follow the chamber is not at the unit. The chamber is read only if
   * the thermometer did not come near the set point.
   */
  private Optional<String> thermometer(List<Sample> samples, double setpoint) {
    if (bench.in(RoleName.UNIT_THERMOMETER, Sensor.class).isEmpty()) {
      return Optional.empty();
    }
    double first = samples.get(0).temperatureDegC();
    double last = samples.get(samples.size() - 1).temperatureDegC();
    if (WiringFaultFinder.thermometer(first, last, setpoint).isEmpty()) {
      return Optional.empty();
    }
    OptionalDouble air = degC(RoleName.CHAMBER);
    return air.isPresent()
        ? WiringFaultFinder.thermometer(first, last, air.getAsDouble())
        : Optional.empty();
  }

  private OptionalDouble degC(RoleName role) {
    return bench
        .in(role, Sensor.class)
        .map(Sensor::read)
        .filter(Reply.Number.class::isInstance)
        .map(reply -> OptionalDouble.of(((Reply.Number) reply).value()))
        .orElse(OptionalDouble.empty());
  }
}
