// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.Bench;
import millrace.bench.check.BenchCheckFinding;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.datasheet.Datasheet;
import millrace.evidence.IncidentKind;
import millrace.evidence.PointConditions;
import millrace.fault.InstrumentException;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.run.condition.ConditionSetter;
import millrace.run.plausibility.LoadResistanceCheck;
import millrace.run.trial.LoopProbe.Seen;
import millrace.run.trial.WiringFaultFinder.Look;
import millrace.time.TimeSource;

/**
 * Checks the chain of meters and the wiring with a unit in place, outside of any run: every range
 * into a short and into half its compliance voltage, voltage over current against the load, the
 * thermometer against the chamber, and slot by slot which unit is where. Single-threaded; leaves
 * the bench to be made safe by whoever called.
 */
public final class MeterChainCheck {
  private final Bench bench;
  private final Datasheet datasheet;
  private final LoopProbe loopProbe;
  private final List<BenchCheckFinding> found = new ArrayList<>();

  /**
   * A check of one bench.
   *
   * @param bench the open bench, its instruments known to answer
   * @param datasheet what the unit promises
   * @param time the clock
   */
  public MeterChainCheck(Bench bench, Datasheet datasheet, TimeSource time) {
    this.bench = bench;
    this.datasheet = datasheet;
    ConditionSetter conditionSetter = new ConditionSetter(bench, datasheet, this::note);
    this.loopProbe = new LoopProbe(bench, conditionSetter, span -> sleep(time, span));
  }

  private void note(IncidentKind kind, String text) {
    if (kind != IncidentKind.RANGE) {
      found.add(BenchCheckFinding.caution(kind.text(), text));
    }
  }

  private static void sleep(TimeSource time, Duration span) {
    try {
      time.sleep(span);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new InstrumentException("the check was interrupted. Begin it again.", e);
    }
  }

  /**
   * Checks every range of the unit, and names what is wired wrong.
   *
   * @return one finding per range; a finding more if the thermometer is doubtful
   */
  public List<BenchCheckFinding> ranges() {
    found.clear();
    PointConditions from =
        bench.file().slots().keySet().stream()
            .findFirst()
            .map(PointConditions.NONE::inSlot)
            .orElse(PointConditions.NONE);
    if (bench.nameIn(RoleName.SUPPLY).isPresent()
        && ConditionSetter.usualSupplyV(datasheet).isEmpty()) {
      found.add(
          BenchCheckFinding.caution(
              "supply",
              "nothing says how many volts; it stays as it is. Name it among the datasheet's parts,"
                  + " as in 'S1: {kind: supply, voltage: 18 V}'."));
    }
    if (bench.in(RoleName.CURRENT_METER, Sensor.class).isPresent()) {
      datasheet.ranges().values().forEach(range -> found.add(guarded(from, range)));
    }
    temperatures().ifPresent(found::add);
    return List.copyOf(found);
  }

  private BenchCheckFinding guarded(PointConditions from, Datasheet.Range range) {
    String what = "meter chain, range " + range.name();
    try {
      return one(what, from, range);
    } catch (InstrumentException e) {
      return BenchCheckFinding.noAnswer(what, String.valueOf(e.getMessage()));
    }
  }

  private BenchCheckFinding one(String what, PointConditions from, Datasheet.Range range) {
    List<Seen> seen = new ArrayList<>();
    TrialLapLoads.of(from, datasheet, range).forEach(stop -> seen.add(loopProbe.see(stop)));
    List<Look> looks = seen.stream().map(Seen::look).toList();
    Optional<String> wrong = TrialLap.wrong(looks, datasheet, range, loopProbe);
    if (wrong.isPresent()) {
      return BenchCheckFinding.bad(what, wrong.get());
    }
    Optional<String> apart = seen.stream().flatMap(s -> apart(s).stream()).findFirst();
    return apart
        .map(text -> BenchCheckFinding.bad(what, text))
        .orElseGet(() -> BenchCheckFinding.good(what, said(seen.get(seen.size() - 1))));
  }

  private Optional<String> apart(Seen seen) {
    return seen.current().isPresent() && seen.voltage().isPresent()
        ? LoadResistanceCheck.trouble(
            bench.file(), seen.loadOhm(), seen.current().get(), seen.voltage().get())
        : Optional.empty();
  }

  private static String said(Seen last) {
    String current =
        QuantityText.print(last.current().orElseThrow().value(), Dimension.CURRENT, 6)
            + " into "
            + QuantityText.print(last.loadOhm(), Dimension.RESISTANCE, 4);
    return last.voltage()
        .map(
            v ->
                current
                    + "; voltage over current "
                    + QuantityText.print(
                        v.value() / last.current().orElseThrow().value(), Dimension.RESISTANCE, 6))
        .orElse(current + "; no voltmeter, so the load is not checked");
  }

  /** At rest the unit's thermometer and the chamber agree within a few kelvin. */
  private Optional<BenchCheckFinding> temperatures() {
    OptionalDouble unit = degC(RoleName.UNIT_THERMOMETER);
    OptionalDouble air = degC(RoleName.CHAMBER);
    if (unit.isEmpty() || air.isEmpty()) {
      return Optional.empty();
    }
    String text =
        "the unit's thermometer shows %s, the chamber %s"
            .formatted(degC(unit.getAsDouble()), degC(air.getAsDouble()));
    return Optional.of(
        Math.abs(unit.getAsDouble() - air.getAsDouble()) <= 5
            ? BenchCheckFinding.good("thermometer", text)
            : BenchCheckFinding.caution(
                "thermometer",
                text
                    + "; expected within 5 K at rest. If the chamber has not moved for an hour, the"
                    + " thermometer is not at the unit."));
  }

  private OptionalDouble degC(RoleName role) {
    Optional<Reply> reply = bench.in(role, Sensor.class).map(Sensor::read);
    return reply.isPresent() && reply.get() instanceof Reply.Number number
        ? OptionalDouble.of(number.value())
        : OptionalDouble.empty();
  }

  private static String degC(double value) {
    return QuantityText.print(value, Dimension.TEMPERATURE, 4);
  }

  /**
   * Has a person switch off one unit after another, and checks which reading falls.
   *
   * @param person who stands at the bench
   * @return one finding per slot; one alone if there is nothing to tell apart
   */
  public List<BenchCheckFinding> slots(BenchOperator person) {
    List<String> names = List.copyOf(bench.file().slots().keySet());
    if (names.size() < 2) {
      return List.of(BenchCheckFinding.good("slots", "one slot alone: nothing to tell apart"));
    }
    SlotCheck check = new SlotCheck(names, datasheet, loopProbe);
    Map<String, Double> before = check.currentsA();
    List<BenchCheckFinding> out = new ArrayList<>();
    for (String name : names) {
      person.ask(SlotCheck.off(name));
      String what = "slot " + name;
      out.add(
          SlotCheck.swapped(name, check.fallen(before))
              .map(wrong -> BenchCheckFinding.bad(what, wrong))
              .orElseGet(
                  () ->
                      BenchCheckFinding.good(
                          what, "its reading falls when its unit is switched off")));
      person.ask(SlotCheck.on());
    }
    return out;
  }
}
