package millrace.sim;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import millrace.time.Seeds;
import millrace.time.TimeSource;
import org.jspecify.annotations.Nullable;

/**
 * What all instruments of a simulated bench share: the units, the loop, the climate, and the watch
 * on what must never happen. Every method is called under {@link #lock}.
 */
final class Circuit {
  private static final double FLICKER_S = 200;

  private final Object lock = new Object();
  private final TimeSource time;
  private final BenchSpec spec;
  private final Climate climate;
  private final Map<String, Unit> units;
  private final List<String> mishaps = new ArrayList<>();
  private final SplittableRandom noise;
  private final double leadsOhm;
  private String position;
  private boolean connected = true;
  private boolean sourceOn;
  private boolean supplyOn;
  private double supplyV;
  private boolean shorted;
  private @Nullable String range;
  private double loadOhm;
  private double burdenOhm;
  private double inputOhm;
  private double onSinceS;
  private double flicker;
  private double flickerAtS;

  Circuit(BenchSpec spec, Map<String, Unit> units, TimeSource time, Seeds seeds) {
    this.spec = spec;
    this.units = new LinkedHashMap<>(units);
    this.time = time;
    this.position = this.units.keySet().iterator().next();
    Unit first = this.units.values().iterator().next();
    this.climate = new Climate(spec, first.spec().thermalLagS(), Unit.REFERENCE_DEGC);
    this.noise = seeds.stream("noise");
    SplittableRandom draw = seeds.stream("wiring");
    this.leadsOhm = spec.leadsOhm() * (1 + Unit.between(draw, 0.2));
    this.inputOhm = spec.inputOhm() * (1 + Unit.between(draw, spec.input()));
  }

  Object lock() {
    return lock;
  }

  TimeSource time() {
    return time;
  }

  BenchSpec spec() {
    return spec;
  }

  Climate climate() {
    return climate;
  }

  double nowS() {
    return time.elapsed().toNanos() / 1e9;
  }

  /** Lets an instrument be busy. */
  void busy(double seconds) {
    try {
      time.sleep(Duration.ofNanos(Math.round(seconds * 1e9)));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  double gaussian() {
    return noise.nextGaussian();
  }

  private void mishap(String text) {
    mishaps.add(text);
  }

  List<String> mishaps() {
    return List.copyOf(mishaps);
  }

  private boolean live() {
    return sourceOn && supplyOn && connected && !shorted && range != null;
  }

  void load(double ohm) {
    if (live() && ohm != loadOhm) {
      mishap("load changed in a live current loop");
    }
    loadOhm = ohm;
  }

  double load() {
    return loadOhm;
  }

  void shorted(boolean on) {
    shorted = on;
  }

  void range(String name) {
    if (live() && !name.equals(range)) {
      mishap("range changed in a live current loop");
    }
    range = name;
  }

  boolean knows(String name) {
    return unit().spec().range(name).isPresent();
  }

  void source(boolean on) {
    sourceOn = on;
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
  }

  double supplyV() {
    return supplyOn ? supplyV : 0;
  }

  boolean supplyOn() {
    return supplyOn;
  }

  void connect(@Nullable String to) {
    if (live()) {
      mishap("switch opened a live current loop");
    }
    connected = to != null;
    if (to != null) {
      position = to;
    }
  }

  boolean hasPosition(String name) {
    return units.containsKey(name);
  }

  void burden(double ohm) {
    burdenOhm = ohm;
  }

  Unit unit() {
    Unit unit = units.get(position);
    if (unit == null) {
      throw new IllegalStateException("no unit at " + position);
    }
    return unit;
  }

  /** What flows and stands in the loop now. */
  record Loop(double meterA, double loadV, double terminalV) {}

  Loop solve() {
    climate.advanceTo(time.elapsed());
    String selected = range;
    if (!sourceOn || !supplyOn || !connected || selected == null) {
      return new Loop(0, 0, 0);
    }
    double load = shorted ? 0.02 : loadOhm;
    double across = spec.voltmeterUpstream() ? load : parallel(load, inputOhm);
    double series = across + burdenOhm + leadsOhm;
    double shunt = 1 / spec.insulationOhm() + (spec.voltmeterUpstream() ? 1 / inputOhm : 0);
    double factor = 1 + drifting();
    double v = terminalV(selected, series, shunt, factor);
    double meterA = v / series;
    return new Loop(meterA, meterA * across, v);
  }

  private static double parallel(double a, double b) {
    return a * b / (a + b);
  }

  /** The terminal voltage at which the unit drives what the loop takes, by bisection. */
  private double terminalV(String selected, double series, double shunt, double factor) {
    double low = 0;
    double high = Math.max(supplyV, 1);
    double conductance = 1 / series + shunt;
    Unit unit = unit();
    double degC = climate.unitDegC();
    double guess = unit.currentA(selected, 0, degC, supplyV) * factor / conductance;
    for (int i = 0; i < 4 && guess < high; i++) {
      double next = unit.currentA(selected, guess, degC, supplyV) * factor / conductance;
      if (Math.abs(next - guess) <= 1e-15 * Math.abs(next)) {
        return next;
      }
      guess = next;
    }
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (unit.currentA(selected, middle, degC, supplyV) * factor > middle * conductance) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return (low + high) / 2;
  }

  /** Warm-up, white and slow noise of the source, relative. */
  private double drifting() {
    Unit unit = unit();
    double now = nowS();
    double keep = Math.exp(-(now - flickerAtS) / FLICKER_S);
    flicker =
        flicker * keep
            + unit.spec().flickerNoise() * Math.sqrt(Math.max(0, 1 - keep * keep)) * gaussian();
    flickerAtS = now;
    return unit.warmUp(now - onSinceS) + flicker + unit.spec().whiteNoise() * gaussian();
  }
}
