// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.Bench;
import millrace.bench.check.Finding;
import millrace.bench.role.Person;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conditions;
import millrace.evidence.IncidentKind;
import millrace.fault.InstrumentException;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.run.condition.Station;
import millrace.run.plausibility.Resistance;
import millrace.run.trial.Probe.Seen;
import millrace.run.trial.Wiring.Look;
import millrace.time.TimeSource;

/**
 * Checks the chain of meters and the wiring with a unit in place, outside of any run: every range
 * into a short and into half its compliance voltage, voltage over current against the load, the
 * thermometer against the chamber, and slot by slot which unit is where. Single-threaded; leaves
 * the bench to be made safe by whoever called.
 */
public final class ChainCheck {
  private final Bench bench;
  private final Datasheet datasheet;
  private final Probe probe;
  private final List<Finding> found = new ArrayList<>();

  /**
   * A check of a bench.
   *
   * @param bench the open bench, its instruments known to answer
   * @param datasheet what the unit promises
   * @param time the clock
   */
  public ChainCheck(Bench bench, Datasheet datasheet, TimeSource time) {
    this.bench = bench;
    this.datasheet = datasheet;
    Station station = new Station(bench, datasheet, this::note);
    this.probe = new Probe(bench, station, span -> sleep(time, span));
  }

  private void note(IncidentKind kind, String text) {
    if (kind != IncidentKind.RANGE) {
      found.add(Finding.caution(kind.text(), text));
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
   * Looks at every range of the unit, and names what is wired wrong.
   *
   * @return one finding per range; a finding more if the thermometer is doubtful
   */
  public List<Finding> ranges() {
    found.clear();
    Conditions from =
        bench.file().slots().keySet().stream()
            .findFirst()
            .map(Conditions.NONE::inSlot)
            .orElse(Conditions.NONE);
    if (bench.nameIn(RoleName.SUPPLY).isPresent() && Station.usualSupplyV(datasheet).isEmpty()) {
      found.add(
          Finding.caution(
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

  private Finding guarded(Conditions from, Datasheet.Range range) {
    String what = "meter chain, range " + range.name();
    try {
      return one(what, from, range);
    } catch (InstrumentException e) {
      return Finding.noAnswer(what, String.valueOf(e.getMessage()));
    }
  }

  private Finding one(String what, Conditions from, Datasheet.Range range) {
    List<Seen> seen = new ArrayList<>();
    TrialStops.of(from, datasheet, range).forEach(stop -> seen.add(probe.see(stop)));
    List<Look> looks = seen.stream().map(Seen::look).toList();
    Optional<String> wrong = TrialLap.wrong(looks, datasheet, range, probe);
    if (wrong.isPresent()) {
      return Finding.bad(what, wrong.get());
    }
    Optional<String> apart = seen.stream().flatMap(s -> apart(s).stream()).findFirst();
    return apart
        .map(text -> Finding.bad(what, text))
        .orElseGet(() -> Finding.good(what, said(seen.get(seen.size() - 1))));
  }

  private Optional<String> apart(Seen seen) {
    return seen.current().isPresent() && seen.voltage().isPresent()
        ? Resistance.trouble(
            bench.file(), seen.loadOhm(), seen.current().get(), seen.voltage().get())
        : Optional.empty();
  }

  private static String said(Seen last) {
    String current =
        Quantities.print(last.current().orElseThrow().value(), Dimension.CURRENT, 6)
            + " into "
            + Quantities.print(last.loadOhm(), Dimension.RESISTANCE, 4);
    return last.voltage()
        .map(
            v ->
                current
                    + "; voltage over current "
                    + Quantities.print(
                        v.value() / last.current().orElseThrow().value(), Dimension.RESISTANCE, 6))
        .orElse(current + "; no voltmeter, so the load is not checked");
  }

  /** At rest the unit's thermometer and the chamber agree within a few kelvin. */
  private Optional<Finding> temperatures() {
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
            ? Finding.good("thermometer", text)
            : Finding.caution(
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
    return Quantities.print(value, Dimension.TEMPERATURE, 4);
  }

  /**
   * Has a person switch off one unit after another, and looks which reading falls.
   *
   * @param person who stands at the bench
   * @return one finding per slot; one alone if there is nothing to tell apart
   */
  public List<Finding> slots(Person person) {
    List<String> names = List.copyOf(bench.file().slots().keySet());
    if (names.size() < 2) {
      return List.of(Finding.good("slots", "one slot alone: nothing to tell apart"));
    }
    SlotCheck check = new SlotCheck(names, datasheet, probe);
    Map<String, Double> before = check.currentsA();
    List<Finding> out = new ArrayList<>();
    for (String name : names) {
      person.ask(SlotCheck.off(name));
      String what = "slot " + name;
      out.add(
          SlotCheck.swapped(name, check.fallen(before))
              .map(wrong -> Finding.bad(what, wrong))
              .orElseGet(
                  () -> Finding.good(what, "its reading falls when its unit is switched off")));
      person.ask(SlotCheck.on());
    }
    return out;
  }
}
