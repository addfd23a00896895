// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.time.Duration;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BooleanSupplier;
import java.util.function.DoubleUnaryOperator;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.calibration.Shunt;
import millrace.datasheet.Datasheet;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedClimate;
import millrace.time.TimeSource;
import org.jspecify.annotations.Nullable;

/**
 * The loop of a bench with an expected unit, as instruments without errors measure it.
 * Single-threaded.
 */
final class NominalLoop {
  private static final String UNIT = "unit";
  private static final int HALVINGS = 60;
  private static final int SUBSTITUTIONS = 6;
  private static final double SAME = 1e-13;

  /**
   * The ramp where the bench file states no limit: 2 K/min, usual for chambers (common practice, no
   * source).
   */
  private static final double USUAL_RAMP = 2.0 / 60;

  private static final double AIR_S = 120;

  private final BenchFile file;
  private final Datasheet datasheet;
  private final ExpectedUnit unit;
  private final TimeSource time;
  private final ExpectedUnitNoise noise;
  private final SimulatedClimate climate;
  private final BooleanSupplier quietByHand;
  private final Map<RoleName, Double> meterRanges = new EnumMap<>(RoleName.class);
  private final Map<String, Double> standards = new LinkedHashMap<>();
  private @Nullable String range;
  private double loadOhm;
  private boolean shorted;
  private boolean sourceOn = true;
  private boolean supplyOn = true;
  private boolean reversed;
  private OptionalDouble supplyV = OptionalDouble.empty();
  private boolean unitConnected = true;
  private OptionalDouble standardA = OptionalDouble.empty();

  NominalLoop(
      BenchFile file,
      Datasheet datasheet,
      ExpectedUnit unit,
      ExpectedUnitNoise noise,
      TimeSource time,
      BooleanSupplier quietByHand) {
    this.noise = noise;
    this.quietByHand = quietByHand;
    this.file = file;
    this.datasheet = datasheet;
    this.unit = unit;
    this.time = time;
    double bounded = BenchSpeedsFromFile.of(file).mostKPerS();
    double ramp = Double.isInfinite(bounded) ? USUAL_RAMP : bounded;
    this.climate =
        new SimulatedClimate(
            new SimulatedBenchSpec.ChamberSpec(0, ramp, AIR_S, 0, true),
            0,
            Map.of(UNIT, unit.lagS()));
    file.standards().values().forEach(s -> standards.put(s.position(), s.currentA()));
    datasheet.ranges().keySet().stream().findFirst().ifPresent(first -> range = first);
  }

  void select(String name) {
    range = name;
  }

  /** The selected range; empty text before one is. */
  String range() {
    return Optional.ofNullable(range).orElse("");
  }

  /** Sets the range of a meter, named by its full scale, A or V. */
  void meter(RoleName role, double fullScale) {
    meterRanges.put(role, fullScale);
  }

  void load(double ohm) {
    loadOhm = ohm;
  }

  void shortCircuit(boolean on) {
    shorted = on;
  }

  void source(boolean on) {
    sourceOn = on;
  }

  void supply(double volts) {
    supplyV = OptionalDouble.of(volts);
  }

  void supplyOutput(boolean on) {
    supplyOn = on;
  }

  void reverse(boolean exchanged) {
    reversed = exchanged;
  }

  void connect(String position) {
    standardA =
        standards.containsKey(position)
            ? OptionalDouble.of(standards.get(position))
            : OptionalDouble.empty();
    unitConnected = standardA.isEmpty();
  }

  void disconnect() {
    standardA = OptionalDouble.empty();
    unitConnected = false;
  }

  void chamber(double degC, double rampKPerS) {
    climate().ramp(rampKPerS);
    climate().setpoint(degC);
  }

  private SimulatedClimate climate() {
    climate.advanceTo(time.elapsed());
    return climate;
  }

  double chamberDegC() {
    return climate().shownDegC();
  }

  double unitDegC() {
    return climate().unitDegC(UNIT);
  }

  double suppliedV() {
    return supplyOn ? supplyV.orElse(0) : 0;
  }

  /** The current through the meter, A. */
  double currentA() {
    double through = standardA.orElseGet(() -> flows() ? throughMeterA() : 0);
    return reversed ? -through : through;
  }

  /** The current of a voltmeter at the terminals does not flow through the meter. */
  private double throughMeterA() {
    return isUpstream() ? terminalV() / behindOhm() : unitA();
  }

  private boolean flows() {
    boolean on = sourceOn && supplyOn && !quietByHand.getAsBoolean();
    return unitConnected && on && !shorted && range != null;
  }

  /**
   * The mean that a meter in this role measures over a time, A or V; the noise of the unit is in
   * its current. A voltage reading carries no noise of the unit: the current of a source hardly
   * depends on the voltage.
   */
  double read(RoleName meter, double seconds) {
    double quiet = at(meter);
    boolean noisy = meter != RoleName.VOLTMETER && unitConnected && flows();
    if (!noisy) {
      return quiet;
    }
    Duration now = time.elapsed();
    double warming = unit.warmUp(TimeSpanSeconds.seconds(now));
    return quiet * (1 + warming + noise.over(range, seconds, now));
  }

  private double at(RoleName meter) {
    return switch (meter) {
      case CURRENT_METER -> currentA();
      case SHUNT_VOLTMETER -> currentA() * shuntOhm();
      case VOLTMETER -> voltageV();
      default -> throw new IllegalArgumentException(meter.text() + " is no meter in the loop");
    };
  }

  /** The resistance across which a voltmeter measures the current, ohm; 0 without one. */
  private double shuntOhm() {
    return file.wiring().shunt().map(Shunt::calibratedOhm).orElse(0.0);
  }

  /** The voltage at the voltmeter, V. */
  private double voltageV() {
    double shown = flows() ? (isUpstream() ? terminalV() : unitA() * loadedOhm()) : 0;
    return reversed ? -shown : shown;
  }

  private double terminalV() {
    return unitA() * seenOhm();
  }

  /** The load with the voltmeter across it, ohm. */
  private double loadedOhm() {
    return parallel(loadOhm, inputOhm());
  }

  /** The resistance behind a voltmeter at the terminals, ohm. */
  private double behindOhm() {
    return besidesOhm() + loadOhm;
  }

  /** The resistance that the unit drives, ohm. */
  private double seenOhm() {
    return isUpstream() ? parallel(behindOhm(), inputOhm()) : besidesOhm() + loadedOhm();
  }

  private static double parallel(double ohm, double otherOhm) {
    return Double.isInfinite(otherOhm) ? ohm : ohm * otherOhm / (ohm + otherOhm);
  }

  private boolean isUpstream() {
    return file.wiring().voltmeter().filter(BenchFile.VoltmeterPlace.UPSTREAM::equals).isPresent();
  }

  /** Leads and the resistance of the current measurement, ohm. */
  private double besidesOhm() {
    double burden =
        file.shuntInUse().isPresent()
            ? shuntOhm()
            : stated(RoleName.CURRENT_METER).map(AccuracyStatement::burdenOhm).orElse(0.0);
    return file.wiring().leadsOhm() + burden;
  }

  private double inputOhm() {
    return stated(RoleName.VOLTMETER)
        .flatMap(AccuracyStatement::inputOhm)
        .orElse(Double.POSITIVE_INFINITY);
  }

  /** The statements of the bench file for a meter in its present range. */
  private Optional<AccuracyStatement> stated(RoleName meter) {
    return Optional.ofNullable(meterRanges.get(meter))
        .flatMap(range -> file.facts(meter).flatMap(facts -> facts.forRange(range)));
  }

  /**
   * The intersection of the unit's characteristic with the load line of the whole loop: by
   * substitution, which converges at once on the plateau; by bisection at the knee.
   */
  private double unitA() {
    String now = Optional.ofNullable(range).orElseThrow();
    double degC = unitDegC();
    double ohm = seenOhm();
    double sign = Math.signum(datasheet.ranges().get(now).nominalA());
    DoubleUnaryOperator sizeA = volts -> sign * unit.currentA(now, volts, degC, supplyV);
    double volts = sizeA.applyAsDouble(0) * ohm;
    for (int i = 0; i < SUBSTITUTIONS && volts >= 0; i++) {
      double size = sizeA.applyAsDouble(volts);
      if (Math.abs(size * ohm - volts) <= SAME * volts) {
        return sign * size;
      }
      volts = size * ohm;
    }
    return sign * bisected(sizeA, ohm);
  }

  private static double bisected(DoubleUnaryOperator sizeA, double ohm) {
    double low = 0;
    double high = ohm * sizeA.applyAsDouble(0) + 1;
    for (int i = 0; i < HALVINGS; i++) {
      double middle = (low + high) / 2;
      boolean below = sizeA.applyAsDouble(middle) * ohm > middle;
      low = below ? middle : low;
      high = below ? high : middle;
    }
    return sizeA.applyAsDouble(low);
  }
}
