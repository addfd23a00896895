// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Consumer;
import millrace.datasheet.Datasheet;
import millrace.document.Located;
import millrace.document.Words;
import millrace.evidence.Conditions;
import millrace.evidence.Direction;
import millrace.fault.Fault;
import millrace.fault.Faults;
import millrace.fault.Place;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;

/** Turns a sequence into the points that are done for one datasheet. Single-threaded. */
public final class Expansion {
  /** The most points that a sequence may come to. */
  public static final int MOST_POINTS = 200_000;

  private final Datasheet datasheet;
  private final List<String> slots;
  private final Set<Fault> faults = new LinkedHashSet<>();
  private final PointKeys keys = new PointKeys();
  private final Map<String, Integer> stays = new TreeMap<>();
  private final List<PlannedPoint> points = new ArrayList<>();
  private int tried;
  private int stayCount;

  private Expansion(Datasheet datasheet, List<String> slots) {
    this.datasheet = datasheet;
    this.slots = slots;
  }

  /**
   * Expands a sequence.
   *
   * @param sequence the sequence, its parts already put in
   * @param datasheet the datasheet of the units
   * @param slots the slots of the bench that are filled; empty for one unit without slots
   * @return the plan
   * @throws millrace.fault.BadInputException if the two do not fit, with every fault found
   */
  public static Plan expand(SequenceFile sequence, Datasheet datasheet, List<String> slots) {
    Expansion expansion = new Expansion(datasheet, slots);
    expansion.all(sequence.steps(), Scope.START.with(sequence.rules()));
    Faults found = new Faults();
    expansion.faults.forEach(found::add);
    found.throwIfAny();
    return new Plan(sequence.title(), sequence.compute(), expansion.points);
  }

  private void all(List<Step> steps, Scope scope) {
    steps.forEach(step -> one(step, scope));
  }

  private void one(Step step, Scope scope) {
    if (full()) {
      return;
    }
    step.accept(new EachStep(scope)).run();
  }

  /** What is done for each kind of step. */
  private final class EachStep implements Step.Visitor<Runnable> {
    private final Scope scope;

    EachStep(Scope scope) {
      this.scope = scope;
    }

    private Runnable under(Place place, RuleWords rules, Consumer<Scope> then) {
      return () -> ruled(place, rules, scope).ifPresent(then);
    }

    @Override
    public Runnable sweep(Step.Sweep s) {
      return under(s.place(), s.rules(), inner -> Expansion.this.sweep(s, inner));
    }

    @Override
    public Runnable task(Step.Do s) {
      return under(s.place(), s.rules(), inner -> Expansion.this.task(s, inner));
    }

    @Override
    public Runnable part(Step.Part s) {
      throw new IllegalArgumentException("part " + s.file() + " was not put in");
    }

    @Override
    public Runnable group(Step.Group s) {
      return under(s.place(), s.rules(), inner -> all(s.does(), inner));
    }
  }

  private Optional<Scope> ruled(Place place, RuleWords rules, Scope scope) {
    try {
      return Optional.of(scope.with(rules));
    } catch (IllegalArgumentException e) {
      fault(place, String.valueOf(e.getMessage()), "");
      return Optional.empty();
    }
  }

  private void sweep(Step.Sweep step, Scope scope) {
    Over over = step.over();
    if (scope.path().containsKey(over.inWords())) {
      fault(step.place(), over.inWords() + " stand inside " + over.inWords(), "one sweep of them");
    } else {
      over.accept(new EachSweep(step, scope)).run();
    }
  }

  /** What is done for each kind of sweep. */
  private final class EachSweep implements Over.Visitor<Runnable> {
    private final Step.Sweep step;
    private final Scope scope;

    EachSweep(Step.Sweep step, Scope scope) {
      this.step = step;
      this.scope = scope;
    }

    @Override
    public Runnable temperatures(Over.Temperatures over) {
      return () -> Expansion.this.temperatures(step, over, scope);
    }

    @Override
    public Runnable ranges(Over.RangesOf over) {
      return () -> Expansion.this.ranges(step, over, scope);
    }

    @Override
    public Runnable slots(Over.Slots over) {
      return () -> Expansion.this.slots(step, over, scope);
    }

    @Override
    public Runnable loads(Over.Loads over) {
      return () -> Expansion.this.loads(step, over, scope);
    }

    @Override
    public Runnable supplyVoltages(Over.SupplyVoltages over) {
      return () -> Expansion.this.supplyVoltages(step, over, scope);
    }

    @Override
    public Runnable setCurrents(Over.SetCurrents over) {
      return () -> Expansion.this.setCurrents(step, over, scope);
    }
  }

  private void supplyVoltages(Step.Sweep step, Over.SupplyVoltages over, Scope scope) {
    for (double supplyV : over.supplyV()) {
      String key = "supply " + Quantities.print(supplyV, Dimension.VOLTAGE);
      inner(step, scope, key, scope.conditions().atSupply(supplyV));
    }
  }

  private void inner(Step.Sweep step, Scope scope, String key, Conditions next) {
    all(step.does(), scope.with(step.over().inWords(), key, next));
  }

  private void temperatures(Step.Sweep step, Over.Temperatures over, Scope scope) {
    for (double degC : over.temperatureDegC()) {
      String bare = Quantities.print(degC, Dimension.TEMPERATURE);
      int stay = stays.merge(String.join("/", scope.keys()) + "/" + bare, 1, Integer::sum);
      TemperatureRule rule =
          new TemperatureRule(
              stayCount++, over.rampKPerS().orElse(Double.POSITIVE_INFINITY), over.soak(), false);
      String key = stay == 1 ? bare : bare + " #" + stay;
      Conditions there = scope.conditions().atTemperature(degC);
      all(over.meanwhile(), scope.with(rule).with(over.inWords(), key, there).whileSoaking());
      inner(step, scope.with(rule), key, there);
    }
  }

  private void ranges(Step.Sweep step, Over.RangesOf over, Scope scope) {
    if (refusedInside(step, scope)) {
      return;
    }
    Set<String> known = datasheet.ranges().keySet();
    for (Located<String> name : named(step, over.names(), known)) {
      Optional<Datasheet.Range> range = datasheet.range(name.value());
      if (range.isEmpty()) {
        String found =
            "the datasheet '%s' has no range %s"
                .formatted(datasheet.name(), Words.quoted(name.value()));
        unknown(name, found, known);
      } else {
        double nominalA = range.get().nominalA();
        inner(step, scope, name.value(), scope.conditions().inRange(name.value(), nominalA));
      }
    }
  }

  private void slots(Step.Sweep step, Over.Slots over, Scope scope) {
    if (slots.isEmpty() && over.names().isEmpty()) {
      all(step.does(), scope);
      return;
    }
    for (Located<String> name : named(step, over.names(), slots)) {
      if (slots.contains(name.value())) {
        String key = "slot " + name.value();
        inner(step, scope, key, scope.conditions().inSlot(name.value()));
      } else {
        unknown(name, "slot " + Words.quoted(name.value()) + " is not filled", slots);
      }
    }
  }

  private static List<Located<String>> named(
      Step.Sweep step, List<Located<String>> names, Collection<String> all) {
    return names.isEmpty() ? all.stream().map(n -> new Located<>(step.place(), n)).toList() : names;
  }

  private void loads(Step.Sweep step, Over.Loads over, Scope scope) {
    if (over.kind() != Over.LoadKind.RESISTANCE && scope.conditions().range().isEmpty()) {
      fault(
          step.place(),
          "loads by voltage stand outside a range",
          "'in ranges: ...' around them, which tells the current");
      return;
    }
    if (over.directions().isEmpty()) {
      over.values().forEach(value -> load(step, over, scope, value, Optional.empty()));
    }
    for (Direction direction : over.directions()) {
      List<Double> values = new ArrayList<>(over.values());
      values.sort(
          direction == Direction.UP ? Comparator.naturalOrder() : Comparator.reverseOrder());
      values.forEach(value -> load(step, over, scope, value, Optional.of(direction)));
    }
  }

  private void load(
      Step.Sweep step, Over.Loads over, Scope scope, double value, Optional<Direction> direction) {
    OptionalDouble volt = OptionalDouble.empty();
    double ohm = value;
    if (over.kind() != Over.LoadKind.RESISTANCE) {
      volt = voltage(step, over.kind(), scope.conditions(), value);
      double ampere = Math.abs(current(scope.conditions()));
      if (volt.isEmpty() || refusedAtNoCurrent(step, ampere)) {
        return;
      }
      ohm = ValueForms.tidy(volt.getAsDouble() / ampere);
    }
    String key =
        Quantities.print(ohm, Dimension.RESISTANCE) + direction.map(d -> " " + d.text()).orElse("");
    inner(step, scope, key, scope.conditions().atLoad(ohm, volt, direction));
  }

  private static double current(Conditions c) {
    return c.setA().orElse(c.nominalA().orElseThrow());
  }

  private boolean refusedAtNoCurrent(Step.Sweep step, double ampere) {
    if (ampere == 0) {
      fault(step.place(), "loads by voltage at a set current of 0", "loads by resistance there");
    }
    return ampere == 0;
  }

  private OptionalDouble voltage(Step.Sweep step, Over.LoadKind kind, Conditions c, double value) {
    if (kind == Over.LoadKind.VOLTAGE) {
      return OptionalDouble.of(value);
    }
    Optional<Double> full = datasheet.complianceVoltageV(c.range().orElseThrow());
    if (full.isEmpty()) {
      fault(
          step.place(),
          "loads are a share of the compliance voltage, which the datasheet does not promise",
          "'compliance: {voltage: ...}' in the datasheet");
      return OptionalDouble.empty();
    }
    return OptionalDouble.of(ValueForms.tidy(value * full.get()));
  }

  private void setCurrents(Step.Sweep step, Over.SetCurrents over, Scope scope) {
    if (refusedInside(step, scope)) {
      return;
    }
    for (double setA : over.setA()) {
      String key = "set " + Quantities.print(setA, Dimension.CURRENT);
      inner(step, scope, key, scope.conditions().atSet(setA));
    }
  }

  /** What decides the current stands around loads by voltage, since they follow from it. */
  private boolean refusedInside(Step.Sweep step, Scope scope) {
    boolean byVoltage = scope.conditions().terminalVoltageV().isPresent();
    if (byVoltage) {
      fault(
          step.place(),
          step.over().inWords() + " stand inside loads by voltage",
          step.over().inWords() + " around the loads, since they decide the resistance");
    }
    return byVoltage;
  }

  private void task(Step.Do step, Scope scope) {
    tried++;
    Optional<Fault> misplaced = Misplaced.why(step, scope, slots);
    misplaced.ifPresent(faults::add);
    if (full()) {
      fault(step.place(), "the sequence comes to more than " + MOST_POINTS + " points", "fewer");
    }
    if (faults.isEmpty()) {
      PointKeys.Key key = keys.next(scope, step.task().word());
      points.add(
          new PlannedPoint(
              points.size() + 1,
              key.text(),
              scope.keys(),
              step.task(),
              scope.conditions().onVisit(key.visit()),
              scope.temperature(),
              scope.rules(),
              step.place()));
    }
  }

  private boolean full() {
    return tried > MOST_POINTS;
  }

  private void fault(Place place, String found, String expected) {
    tried++;
    faults.add(Fault.of(place, found, expected));
  }

  private void unknown(Located<String> name, String found, Collection<String> known) {
    tried++;
    String expected = known.isEmpty() ? "none, since the bench has none" : Words.oneOf(known);
    faults.add(new Fault(name.place(), found, expected, Words.didYouMean(name.value(), known)));
  }
}
