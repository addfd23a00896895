// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeSet;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Consumer;
import java.util.function.DoubleUnaryOperator;
import millrace.quantity.TimeSpanSeconds;
import millrace.sim.fault.SimFault;
import millrace.sim.truth.BenchTruth;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedCheckStandard;
import millrace.sim.truth.SimulatedClimate;
import millrace.sim.truth.SimulatedFlickerNoise;
import millrace.sim.truth.SimulatedSourceLag;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.TrueValueDraw;
import millrace.time.Seeds;
import millrace.time.TimeSource;
import org.jspecify.annotations.Nullable;

/**
 * The shared state of all instruments of a simulated bench: the units, the loop, the climate, and
 * the watch for forbidden events. Every method is called with {@link #lock} held.
 */
final class SimulatedLoop {
  private static final double SHORT_OHM = 0.02;
  private static final int CLOSE_ENOUGH = 6;
  private static final double HIGHEST_V = 15;
  private static final int MOST_GIVEN = 100_000;

  private final ReentrantLock lock = new ReentrantLock();
  private final TimeSource time;
  private final SimulatedBenchSpec spec;
  private final BenchTruth truth;
  private final SimulatedClimate climate;
  private final Map<String, Slot> slots = new LinkedHashMap<>();
  private final MistreatmentWatch watch;
  private final TreeSet<Happening> agenda =
      new TreeSet<>(Comparator.comparing(Happening::at).thenComparing(Happening::number));
  private final SplittableRandom noise;
  private final SimulatedCheckStandard standard;
  private String position;
  private boolean onStandard;
  private boolean connected = true;
  private boolean sourceOn;
  private boolean supplyOn;
  private double supplyV;
  private boolean shorted;
  private boolean reversed;
  private @Nullable String range;
  private double loadOhm;
  private double stuckOhm;
  private double burdenOhm;
  private double inputOhm;
  private double onSinceS;
  private int happenings;
  private final Set<SimFault.Kind> wrong = EnumSet.noneOf(SimFault.Kind.class);
  private final SimulatedSourceLag lag = new SimulatedSourceLag();
  private final ArrayDeque<SimMeterReply> given = new ArrayDeque<>();

  /** A unit with its changing state. */
  private static final class Slot {
    private SimulatedUnit unit;
    private final SimulatedFlickerNoise flicker;
    private boolean dead;

    Slot(SimulatedUnit unit, SimulatedFlickerNoise flicker) {
      this.unit = unit;
      this.flicker = flicker;
    }
  }

  SimulatedLoop(
      SimulatedBenchSpec spec, Map<String, SimulatedUnit> units, TimeSource time, Seeds seeds) {
    this.spec = spec;
    this.truth = BenchTruth.drawn(spec, seeds);
    this.time = time;
    this.noise = seeds.stream("noise from " + time.elapsed());
    this.watch = new MistreatmentWatch(spec);
    this.position = units.keySet().iterator().next();
    Map<String, Double> lags = new LinkedHashMap<>();
    units.forEach(
        (name, unit) -> {
          double flicker = unit.spec().noise().flicker();
          slots.put(
              name,
              new Slot(
                  unit,
                  new SimulatedFlickerNoise(
                      flicker, seeds.stream("flicker " + name + " from " + time.elapsed()))));
          double place = 1 + 0.1 * seeds.stream("place " + name).nextDouble(-1, 1);
          lags.put(name, unit.spec().warmth().lagS() * (units.size() > 1 ? place : 1));
        });
    this.climate = new SimulatedClimate(spec.chamber(), truth.chamberK(), lags);
    this.standard = SimulatedCheckStandard.drawn(new TrueValueDraw(seeds.derive("standard")));
    this.inputOhm = truth.voltmeter().ranges().get(0).resistanceOhm();
  }

  ReentrantLock lock() {
    return lock;
  }

  TimeSource time() {
    return time;
  }

  SimulatedBenchSpec spec() {
    return spec;
  }

  BenchTruth truth() {
    return truth;
  }

  /** The present climate, after every event due until now. */
  SimulatedClimate climate() {
    Duration now = time.elapsed();
    while (!agenda.isEmpty() && agenda.first().at().compareTo(now) <= 0) {
      Happening next = agenda.pollFirst();
      climate.advanceTo(next.at());
      next.what().accept(climate);
    }
    climate.advanceTo(now);
    return climate;
  }

  /** A future event of the bench. */
  private record Happening(Duration at, int number, Consumer<SimulatedClimate> what) {}

  /** Adds an event to the agenda. */
  void at(Duration when, Consumer<SimulatedClimate> what) {
    agenda.add(new Happening(when, happenings++, what));
  }

  MistreatmentWatch watch() {
    return watch;
  }

  double nowS() {
    return TimeSpanSeconds.seconds(time.elapsed());
  }

  /** Keeps an instrument busy while others go on: the lock is released meanwhile. */
  void busy(double seconds) {
    lock.unlock();
    try {
      time.sleep(TimeSpanSeconds.ofSeconds(seconds));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      lock.lock();
    }
  }

  double gaussian() {
    return noise.nextGaussian();
  }

  private boolean live() {
    return sourceOn && isFed() && connected && !onStandard && !shorted && range != null;
  }

  void load(double ohm) {
    if (live() && ohm != loadOhm) {
      watch.happened("load changed in a live current loop");
    }
    loadOhm = ohm;
    look();
  }

  /**
   * The resistance in the loop beyond the setting of the load; none while the output is shorted.
   */
  void stick(double ohm) {
    stuckOhm = ohm;
  }

  void shorted(boolean on) {
    shorted = on;
    look();
  }

  boolean shorted() {
    return shorted;
  }

  /** Selects a range; null when the selector has lost its setting. */
  void range(@Nullable String name) {
    if (live() && !Objects.equals(name, range)) {
      watch.happened("range changed in a live current loop");
    }
    range = name;
    look();
  }

  boolean knows(String name) {
    return slots.values().stream().anyMatch(s -> s.unit.spec().range(name).isPresent());
  }

  void source(boolean on) {
    sourceOn = on;
    look();
  }

  boolean sourceOn() {
    return sourceOn;
  }

  void supply(double volts, boolean on) {
    if (on && !supplyOn) {
      onSinceS = nowS();
    }
    supplyV = volts;
    supplyOn = on;
    look();
  }

  double supplyV() {
    return supplyOn ? supplyV : 0;
  }

  boolean supplyOn() {
    return supplyOn;
  }

  void connect(@Nullable String to) {
    if (live() && !(connected && position.equals(to))) {
      watch.happened("switch opened a live current loop");
    }
    connected = to != null;
    onStandard = SimulatedCheckStandard.POSITION.equals(to);
    if (to != null && !onStandard) {
      position = to;
    }
    look();
  }

  /** Exchanges the unit's leads at the meters. */
  void reversed(boolean exchanged) {
    if (live() && exchanged != reversed) {
      watch.happened("leads exchanged in a live current loop");
    }
    reversed = exchanged;
    look();
  }

  boolean hasUnit(String name) {
    return slots.containsKey(name);
  }

  SimulatedCheckStandard standard() {
    return standard;
  }

  /** Replaces a unit by another one at room temperature. */
  void insert(String at, SimulatedUnit unit) {
    if (live() && at.equals(position)) {
      watch.happened("unit taken out of a live current loop");
    }
    Slot slot = Objects.requireNonNull(slots.get(at));
    slot.unit = unit;
    slot.dead = false;
    climate().replace(at);
    look();
  }

  /** The position of the connected unit, or of the last one. */
  String position() {
    return position;
  }

  void burden(double ohm) {
    burdenOhm = ohm;
  }

  void input(double ohm) {
    inputOhm = ohm;
  }

  /** Switches the unit labelled for a position off, or on again. */
  void switchOff(String label, boolean off) {
    Objects.requireNonNull(slots.get(label)).dead = off;
  }

  /** Stops the current of the connected unit for good. */
  void die() {
    slot().dead = true;
  }

  /** Sets or removes a wiring fault from now on. */
  void wrong(SimFault.Kind kind, boolean is) {
    if (is) {
      wrong.add(kind);
    } else {
      wrong.remove(kind);
    }
  }

  boolean isWrong(SimFault.Kind kind) {
    return wrong.contains(kind);
  }

  /** The real position of the unit that the switch connects. */
  private String at() {
    if (!wrong.contains(SimFault.Kind.SLOTS_SWAPPED) || slots.size() < 2) {
      return position;
    }
    List<String> names = new ArrayList<>(slots.keySet());
    int index = names.indexOf(position);
    return index > 1 ? position : names.get(1 - index);
  }

  private Slot slot() {
    Slot slot = slots.get(at());
    if (slot == null) {
      throw new IllegalStateException("no unit at " + position);
    }
    return slot;
  }

  /** Stores a reading of a meter with its conditions. */
  void give(String instrument, String reply) {
    if (given.size() >= MOST_GIVEN) {
      given.removeFirst();
    }
    given.addLast(
        new SimMeterReply(
            time.elapsed(),
            instrument,
            reply,
            Optional.ofNullable(range),
            shorted ? SHORT_OHM : loadOhm,
            onStandard ? SimulatedCheckStandard.POSITION : position,
            climate.unitDegC(at())));
  }

  List<SimMeterReply> given() {
    return List.copyOf(given);
  }

  /** Sets the time constant of the current from now on, s; 0 for none. */
  void slow(double timeConstantS) {
    lag.slow(timeConstantS);
  }

  /** Whether the unit has a supply, the bench's or its own. */
  private boolean isFed() {
    return supplyOn || ownSupplyV().isPresent();
  }

  private double fedV() {
    return ownSupplyV().orElse(supplyV);
  }

  private OptionalDouble ownSupplyV() {
    return range == null ? OptionalDouble.empty() : slot().unit.ownSupplyV(range);
  }

  private void look() {
    climate(); // every event due until now is done
    lag.after(sourceOn && isFed(), nowS());
    watch.supply(slot().unit, supplyV());
    if (live()) {
      watch.loop(solve(1));
    }
    watch.dew(climate().wet(), climate.doorOpen());
  }

  /**
   * The mean of a quantity over the integration time of an instrument.
   *
   * @param seconds the integration time, s, above 0
   */
  SimLoopState solve(double seconds) {
    String selected = range;
    Slot slot = slot();
    watch.dew(climate().wet(), climate.doorOpen());
    if (connected && onStandard) {
      return warmed(loop(standard::at, mesh(theirs())));
    }
    double share = lag.after(sourceOn && isFed(), nowS());
    if (share == 0 || !connected || selected == null || slot.dead) {
      return new SimLoopState(0, 0, 0);
    }
    if (slot.unit.spec().range(selected).isEmpty()) {
      return new SimLoopState(0, 0, 0);
    }
    double degC = climate.unitDegC(at());
    double factor = share * (1 + drifting(slot, seconds));
    SimLoopNetwork simLoopNetwork = reversed ? mesh(wrong).reversed() : mesh(wrong);
    return warmed(
        loop(v -> factor * slot.unit.currentA(selected, v, degC, fedV()), simLoopNetwork));
  }

  /** The thermal voltage of the voltmeter's leads is present with either polarity of the unit. */
  private SimLoopState warmed(SimLoopState loop) {
    return new SimLoopState(
        loop.meterA(), loop.seenV() + spec.wiring().thermalV(), loop.terminalV());
  }

  /** A fault of the unit's leads does not affect the leads of the standard. */
  private Set<SimFault.Kind> theirs() {
    Set<SimFault.Kind> own = EnumSet.noneOf(SimFault.Kind.class);
    own.addAll(wrong);
    own.remove(SimFault.Kind.LEAD_OPEN);
    own.remove(SimFault.Kind.LEADS_REVERSED);
    return own;
  }

  private SimLoopState loop(DoubleUnaryOperator currentA, SimLoopNetwork simLoopNetwork) {
    double v = terminalV(currentA, simLoopNetwork.conductanceS());
    return new SimLoopState(v * simLoopNetwork.meterS(), v * simLoopNetwork.loadShare(), v);
  }

  private SimLoopNetwork mesh(Set<SimFault.Kind> slips) {
    SimulatedBenchSpec.WiringSpec wiring = spec.wiring();
    SimLoopNetwork.Parts parts =
        new SimLoopNetwork.Parts(
            shorted ? SHORT_OHM : loadOhm + stuckOhm,
            burdenOhm,
            truth.leadsOhm(),
            inputOhm,
            wiring.insulationOhm());
    return SimLoopNetwork.of(parts, wiring.voltmeterUpstream(), slips);
  }

  /**
   * The terminal voltage at which the current of the unit equals that of the loop: by substitution,
   * which converges at once on the plateau; by bisection at the knee.
   */
  private double terminalV(DoubleUnaryOperator currentA, double conductance) {
    double high = Math.max(fedV(), HIGHEST_V);
    double guess = currentA.applyAsDouble(0) / conductance;
    for (int i = 0; i < CLOSE_ENOUGH && guess < high; i++) {
      double next = currentA.applyAsDouble(guess) / conductance;
      if (Math.abs(next - guess) <= 1e-14 * Math.abs(next)) {
        return next;
      }
      guess = next;
    }
    double low = 0;
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (currentA.applyAsDouble(middle) > middle * conductance) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return (low + high) / 2;
  }

  /** Warm-up, white and slow noise of the source, relative. */
  private double drifting(Slot slot, double seconds) {
    double now = nowS();
    return slot.unit.warmUp(now - onSinceS)
        + slot.flicker.at(now)
        + slot.unit.spec().noise().white() / Math.sqrt(seconds) * gaussian();
  }
}
