// SPDX-License-Identifier: Apache-2.0
package millrace.run.condition;

import java.time.Duration;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BiConsumer;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.CableChargeTime;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.Reverser;
import millrace.bench.role.RoleName;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetPart;
import millrace.evidence.IncidentKind;
import millrace.evidence.PointConditions;
import millrace.evidence.setting.MeterSettings;
import millrace.evidence.setting.PointSettings;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import org.jspecify.annotations.Nullable;

/**
 * Sets the conditions that a point asks for, changing only what differs, and never opening a live
 * current loop: range, load and switch change with the output shorted or the source off, as the
 * bench file says. Single-threaded.
 */
public final class ConditionSetter {
  /** How much more than expected a reading may be before it leaves the meter's range. */
  private static final double ROOM = 0.02;

  /** How far the voltage of a supply may be from what it was set to, common practice, no source. */
  private static final double SUPPLY_ROOM = 0.05;

  private final Bench bench;
  private final Datasheet datasheet;
  private final BiConsumer<IncidentKind, String> notes;
  private final ManualTaskGrouping byHand;
  private final ToldSettings told;
  private @Nullable String range;
  private OptionalDouble loadOhm = OptionalDouble.empty();
  private OptionalDouble setA = OptionalDouble.empty();
  private OptionalDouble supplyV = OptionalDouble.empty();
  private @Nullable String position;
  private Optional<Boolean> reversed = Optional.empty();
  private boolean quiet;
  private boolean released;
  private @Nullable MeterRange currentRange;
  private @Nullable MeterRange voltageRange;
  private double cycles;
  private Optional<PointSettings> settings = Optional.empty();

  /**
   * Begins with nothing known to be set.
   *
   * @param bench the open bench
   * @param datasheet the ranges of the unit
   * @param notes takes what a person should know
   */
  public ConditionSetter(Bench bench, Datasheet datasheet, BiConsumer<IncidentKind, String> notes) {
    this.bench = bench;
    this.datasheet = datasheet;
    this.notes = notes;
    this.byHand = new ManualTaskGrouping(bench, datasheet);
    this.told = new ToldSettings(bench, notes);
  }

  /** Forgets what is set, as after a broken link: everything is set again. */
  public void forget() {
    range = null;
    loadOhm = OptionalDouble.empty();
    supplyV = OptionalDouble.empty();
    setA = OptionalDouble.empty();
    position = null;
    reversed = Optional.empty();
    quiet = false;
    released = false;
    currentRange = null;
    voltageRange = null;
    settings = Optional.empty();
    told.forget();
  }

  /**
   * Sets supply, range, load and position.
   *
   * @return true if anything changed that has to settle
   */
  public boolean establish(PointConditions wanted) {
    boolean changed = supply(wanted);
    boolean loop = loop(wanted);
    return awake() || loop || changed;
  }

  /** The same with the output left quiet, for what is read with the source off. */
  public void establishQuiet(PointConditions wanted) {
    if (!byHand.any()) {
      establish(wanted);
    } else {
      supply(wanted);
      loop(wanted);
    }
    quieten();
    byHand.close();
  }

  /** Tells whoever reads by hand which reading is next; empty for one that is not counted. */
  public void reading(String which) {
    bench.workplace().reading(which);
  }

  /** Whether a person reads the current, who sees for themselves when a display stands still. */
  public boolean readByHand() {
    return bench.isByHand(RoleName.CURRENT_METER);
  }

  /** Makes sure that the source is off by now, where a person switches it. */
  public void stayQuiet() {
    byHand.stay();
  }

  private boolean loop(PointConditions wanted) {
    boolean differs = loopDiffers(wanted);
    if (differs) {
      quieten();
      byHand.close();
      position(wanted);
      turn(false);
      range(wanted);
      dial(wanted);
      load(wanted);
    }
    return differs;
  }

  private boolean loopDiffers(PointConditions wanted) {
    boolean rangeDiffers = wanted.range().isPresent() && !wanted.range().get().equals(range);
    boolean loadDiffers =
        loadOhm.isEmpty() || (wanted.loadOhm().isPresent() && !wanted.loadOhm().equals(loadOhm));
    boolean dialDiffers = wanted.setA().isPresent() && !wanted.setA().equals(setA);
    return rangeDiffers
        || loadDiffers
        || dialDiffers
        || !Objects.equals(positionFor(wanted), position);
  }

  private boolean supply(PointConditions wanted) {
    Optional<Supply> supply = bench.in(RoleName.SUPPLY, Supply.class);
    OptionalDouble volts =
        wanted.supplyV().isPresent() ? wanted.supplyV() : usualSupplyV(datasheet);
    if (supply.isEmpty() || volts.isEmpty() || volts.equals(supplyV)) {
      return false;
    }
    supply.get().set(volts.getAsDouble());
    supply.get().output(true);
    supplyV = volts;
    return true;
  }

  /** The supply that the datasheet names among the parts. */
  public static OptionalDouble usualSupplyV(Datasheet datasheet) {
    return datasheet.parts().values().stream()
        .filter(DatasheetPart.Supply.class::isInstance)
        .mapToDouble(p -> ((DatasheetPart.Supply) p).voltageV())
        .findFirst();
  }

  /** Shorts the output or switches the source off, before anything in the loop changes. */
  public void quieten() {
    if (quiet) {
      return;
    }
    if (shorts()) {
      bench.in(RoleName.LOAD, Load.class).orElseThrow().shortCircuit(true);
      byHand.held(RoleName.LOAD, "shorts the output, and the source is still on");
    } else if (switches()) {
      bench.in(RoleName.RANGE_SELECTOR, RangeSelector.class).orElseThrow().output(false);
      byHand.held(RoleName.RANGE_SELECTOR, "has switched the source off");
    } else {
      byHand.quiet();
    }
    quiet = true;
  }

  /** Nobody shorts a live output by hand: where a person sets the load, the source goes off. */
  private boolean shorts() {
    return bench.file().changes() == BenchFile.BeforeChange.SHORT_OUTPUT
        && !bench.isByHand(RoleName.LOAD)
        && bench.in(RoleName.LOAD, Load.class).filter(Load::canShort).isPresent();
  }

  private boolean switches() {
    return !bench.isByHand(RoleName.RANGE_SELECTOR)
        && bench
            .in(RoleName.RANGE_SELECTOR, RangeSelector.class)
            .filter(RangeSelector::canSwitchOutput)
            .isPresent();
  }

  private boolean awake() {
    if (!quiet) {
      return false;
    }
    byHand.on();
    if (shorts()) {
      bench.in(RoleName.LOAD, Load.class).orElseThrow().shortCircuit(false);
    }
    if (switches()) {
      bench.in(RoleName.RANGE_SELECTOR, RangeSelector.class).orElseThrow().output(true);
    }
    quiet = false;
    return true;
  }

  private @Nullable String positionFor(PointConditions wanted) {
    return wanted
        .slot()
        .map(slot -> bench.file().slots().get(slot))
        .or(() -> bench.file().slots().values().stream().findFirst())
        .orElse(null);
  }

  private void position(PointConditions wanted) {
    String to = positionFor(wanted);
    if (to != null && !to.equals(position)) {
      byHand.before(RoleName.SWITCH);
      bench.in(RoleName.SWITCH, Switch.class).ifPresent(s -> s.connect(to));
      setA = OptionalDouble.empty(); // each unit has a dial of its own
    }
    position = to;
  }

  /** Whether the unit's leads are exchanged at the meters. */
  public boolean isReversed() {
    return reversed.orElse(false);
  }

  /**
   * Exchanges the unit's leads at the meters or puts them back, with the loop quiet meanwhile.
   *
   * @return true if anything changed that has to settle
   */
  public boolean reverse(boolean exchanged) {
    if (reversed.equals(Optional.of(exchanged))) {
      return false;
    }
    quieten();
    turn(exchanged);
    return awake();
  }

  private void turn(boolean exchanged) {
    if (!reversed.equals(Optional.of(exchanged))) {
      byHand.before(RoleName.REVERSER);
      bench.in(RoleName.REVERSER, Reverser.class).ifPresent(r -> r.reverse(exchanged));
      reversed = Optional.of(exchanged);
    }
  }

  private void range(PointConditions wanted) {
    if (wanted.range().isPresent() && !wanted.range().get().equals(range)) {
      String name = wanted.range().get();
      meterFor(largestA(wanted));
      byHand.before(RoleName.RANGE_SELECTOR);
      bench.in(RoleName.RANGE_SELECTOR, RangeSelector.class).ifPresent(s -> s.select(name));
      range = name;
    }
  }

  /** No role sets the current of a unit: a person turns its dial. */
  private void dial(PointConditions wanted) {
    if (wanted.setA().isPresent() && !wanted.setA().equals(setA)) {
      String current = QuantityText.print(wanted.setA().getAsDouble(), Dimension.CURRENT);
      byHand.dial(
          "Set the source to %s%s"
              .formatted(
                  current, wanted.slot().map(s -> ", the one in slot '" + s + "'").orElse("")));
      setA = wanted.setA();
    }
  }

  /** The current meter's range is part of the loop: its burden changes with it. */
  private void meterFor(double currentA) {
    bench
        .in(RoleName.CURRENT_METER, Meter.class)
        .map(m -> rangeFor(m, currentA))
        .ifPresent(
            r -> {
              if (!r.equals(currentRange)) {
                byHand.before(RoleName.CURRENT_METER);
                currentRange = r;
                settings = Optional.empty();
                told.look(RoleName.CURRENT_METER);
                bench
                    .in(RoleName.CURRENT_METER, Meter.class)
                    .ifPresent(m -> m.prepare(r, Math.max(cycles, 1)));
              }
            });
  }

  /**
   * Removes the short that the safe state of an earlier run may have left; nothing else removes it.
   */
  private void load(PointConditions wanted) {
    double ohm = wanted.loadOhm().orElse(0);
    byHand.before(RoleName.LOAD);
    bench.in(RoleName.LOAD, Load.class).ifPresent(l -> l.set(ohm));
    if (!released && bench.file().changes() == BenchFile.BeforeChange.SOURCE_OFF) {
      bench
          .in(RoleName.LOAD, Load.class)
          .filter(l -> !bench.isByHand(RoleName.LOAD))
          .filter(Load::canShort)
          .ifPresent(l -> l.shortCircuit(false));
    }
    released = true;
    loadOhm = OptionalDouble.of(ohm);
  }

  /** One meter range for all set currents of a range, unless one lies above its nominal current. */
  private static double largestA(PointConditions wanted) {
    return Math.max(Math.abs(wanted.nominalA().orElse(0)), Math.abs(wanted.setA().orElse(0)));
  }

  private static MeterRange rangeFor(Meter meter, double reading) {
    return MeterRange.pick(meter.ranges(), reading, ROOM)
        .orElseThrow(() -> new IllegalStateException("a meter without ranges"));
  }

  /** Sets the meters up for a point. */
  public void prepareMeters(PointConditions wanted, double lineCycles) {
    double currentA = largestA(wanted);
    double voltageV = currentA * wanted.loadOhm().orElse(0);
    double most = datasheet.openCircuitVoltageV().orElse(Double.MAX_VALUE);
    boolean newCycles = lineCycles != cycles;
    cycles = lineCycles;
    bench
        .in(RoleName.CURRENT_METER, Meter.class)
        .ifPresent(
            m ->
                currentRange =
                    prepared(RoleName.CURRENT_METER, m, currentRange, currentA, newCycles));
    bench
        .in(RoleName.VOLTMETER, Meter.class)
        .ifPresent(
            m ->
                voltageRange =
                    prepared(
                        RoleName.VOLTMETER, m, voltageRange, Math.min(voltageV, most), newCycles));
  }

  private MeterRange prepared(
      RoleName role, Meter meter, @Nullable MeterRange before, double reading, boolean newCycles) {
    MeterRange wanted = rangeFor(meter, reading);
    if (!wanted.equals(before) || newCycles) {
      if (quiet) {
        byHand.before(RoleName.CURRENT_METER);
      }
      told.look(role);
      meter.prepare(wanted, cycles);
      settings = Optional.empty();
    } else {
      told.rely(role);
    }
    return wanted;
  }

  /** Goes one meter range up after an overload; false if there is none. */
  public boolean rangeUp(RoleName role) {
    Meter meter = bench.in(role, Meter.class).orElseThrow();
    MeterRange before = role == RoleName.CURRENT_METER ? currentRange : voltageRange;
    Optional<MeterRange> next = before == null ? Optional.empty() : before.up(meter.ranges());
    if (next.isEmpty()) {
      return false;
    }
    told.look(role);
    meter.prepare(next.get(), cycles);
    settings = Optional.empty();
    if (role == RoleName.CURRENT_METER) {
      currentRange = next.get();
    } else {
      voltageRange = next.get();
    }
    notes.accept(
        IncidentKind.RANGE, "the %s went one range up after an overload".formatted(role.text()));
    return true;
  }

  /** The full scale of the range that a meter is on, A or V; empty before it was set. */
  public OptionalDouble fullScale(RoleName role) {
    MeterRange on = role == RoleName.CURRENT_METER ? currentRange : voltageRange;
    return on == null ? OptionalDouble.empty() : OptionalDouble.of(on.fullScale());
  }

  /**
   * What the meters say their settings are, read back once after each change, and the least step of
   * their range as the driver states it, so that it is on record years later (methods.md 2.1).
   */
  public PointSettings settings() {
    PointSettings read =
        settings.orElseGet(
            () -> PointSettings.of(readBack(RoleName.CURRENT_METER), readBack(RoleName.VOLTMETER)));
    settings = Optional.of(read);
    return read;
  }

  private MeterSettings readBack(RoleName role) {
    MeterRange on = role == RoleName.CURRENT_METER ? currentRange : voltageRange;
    OptionalDouble step =
        on == null || on.resolution() <= 0
            ? OptionalDouble.empty()
            : OptionalDouble.of(on.resolution());
    return told.of(role).orResolution(step);
  }

  /** Tells of meters that somebody turned since they last said their settings. */
  public void lookAtMeters() {
    told.lookAtAll();
  }

  /** What the supply shows, if that differs from its setting; a person is not asked for it. */
  public Optional<String> changed() {
    if (supplyV.isEmpty() || bench.isByHand(RoleName.SUPPLY)) {
      return Optional.empty();
    }
    return supplyOff().flatMap(first -> supplyOff());
  }

  private Optional<String> supplyOff() {
    double set = supplyV.getAsDouble();
    Optional<Reply> shows = bench.in(RoleName.SUPPLY, Supply.class).map(Supply::read);
    return shows.isPresent()
            && shows.get() instanceof Reply.Number n
            && Math.abs(n.value() - set) > SUPPLY_ROOM * set
        ? Optional.of(
            "supply '%s' shows %s and was set to %s"
                .formatted(
                    bench.nameIn(RoleName.SUPPLY).orElse(""),
                    QuantityText.print(n.value(), Dimension.VOLTAGE, 4),
                    QuantityText.print(set, Dimension.VOLTAGE)))
        : Optional.empty();
  }

  /** Takes the unit out of the loop, by the switch or by switching it off, for a zero. */
  public void isolate() {
    quieten();
    Optional<Switch> open = bench.in(RoleName.SWITCH, Switch.class);
    if (open.isPresent()) {
      byHand.before(RoleName.SWITCH);
      open.get().disconnect();
      position = null;
      loadOhm = OptionalDouble.empty();
    } else if (switches()) {
      bench.in(RoleName.RANGE_SELECTOR, RangeSelector.class).orElseThrow().output(false);
    } else {
      byHand.open();
    }
  }

  /** Connects a check standard in place of the unit; the load must not stand in its way. */
  public void standard(Switch to, String at) {
    isolate();
    byHand.before(RoleName.LOAD);
    bench.in(RoleName.LOAD, Load.class).ifPresent(l -> l.set(0));
    to.connect(at);
    byHand.stay();
  }

  /** How long the output of a high-ohmic loop needs after a step (methods.md 1.6). */
  public Duration capacitanceWait(PointConditions wanted) {
    return TimeSpanSeconds.ofSeconds(
        CableChargeTime.seconds(bench.file().wiring(), wanted.loadOhm().orElse(0)));
  }
}
