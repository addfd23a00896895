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
import millrace.document.FileMessageText;
import millrace.document.LocatedValue;
import millrace.evidence.PointConditions;
import millrace.evidence.SweepDirection;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;

/** Expands a sequence into the points that are measured for one datasheet. Single-threaded. */
public final class SequenceExpansion {
  /** The most points that a sequence may come to. */
  public static final int MOST_POINTS = 200_000;

  private final Datasheet datasheet;
  private final List<String> slots;
  private final Set<InputFault> faults = new LinkedHashSet<>();
  private final PointKeys keys = new PointKeys();
  private final Map<String, Integer> stays = new TreeMap<>();
  private final List<PlannedPoint> points = new ArrayList<>();
  private int tried;
  private int stayCount;

  private SequenceExpansion(Datasheet datasheet, List<String> slots) {
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
   * @throws millrace.fault.BadInputException if sequence and datasheet do not fit each other, with
   *     every fault found
   */
  public static Plan expand(SequenceFile sequence, Datasheet datasheet, List<String> slots) {
    SequenceExpansion expansion = new SequenceExpansion(datasheet, slots);
    expansion.all(sequence.steps(), StepScope.START.with(sequence.rules()));
    InputFaultList found = new InputFaultList();
    expansion.faults.forEach(found::add);
    found.throwIfAny();
    return new Plan(sequence.title(), sequence.compute(), expansion.points);
  }

  private void all(List<Step> steps, StepScope scope) {
    steps.forEach(step -> one(step, scope));
  }

  private void one(Step step, StepScope scope) {
    if (full()) {
      return;
    }
    step.accept(new EachStep(scope)).run();
  }

  /** Expands each kind of step. */
  private final class EachStep implements Step.Visitor<Runnable> {
    private final StepScope scope;

    EachStep(StepScope scope) {
      this.scope = scope;
    }

    private Runnable under(
        FilePlace place, MeasuringRuleOverrides rules, Consumer<StepScope> then) {
      return () -> ruled(place, rules, scope).ifPresent(then);
    }

    @Override
    public Runnable sweep(Step.Sweep s) {
      return under(s.place(), s.rules(), inner -> SequenceExpansion.this.sweep(s, inner));
    }

    @Override
    public Runnable task(Step.Do s) {
      return under(s.place(), s.rules(), inner -> SequenceExpansion.this.task(s, inner));
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

  private Optional<StepScope> ruled(
      FilePlace place, MeasuringRuleOverrides rules, StepScope scope) {
    try {
      return Optional.of(scope.with(rules));
    } catch (IllegalArgumentException e) {
      fault(place, String.valueOf(e.getMessage()), "");
      return Optional.empty();
    }
  }

  private void sweep(Step.Sweep step, StepScope scope) {
    SweepVariable over = step.over();
    if (scope.path().containsKey(over.inWords())) {
      fault(step.place(), over.inWords() + " stand inside " + over.inWords(), "one sweep of them");
    } else {
      over.accept(new EachSweep(step, scope)).run();
    }
  }

  /** Expands each kind of sweep. */
  private final class EachSweep implements SweepVariable.Visitor<Runnable> {
    private final Step.Sweep step;
    private final StepScope scope;

    EachSweep(Step.Sweep step, StepScope scope) {
      this.step = step;
      this.scope = scope;
    }

    @Override
    public Runnable temperatures(SweepVariable.Temperatures over) {
      return () -> SequenceExpansion.this.temperatures(step, over, scope);
    }

    @Override
    public Runnable ranges(SweepVariable.RangesOf over) {
      return () -> SequenceExpansion.this.ranges(step, over, scope);
    }

    @Override
    public Runnable slots(SweepVariable.Slots over) {
      return () -> SequenceExpansion.this.slots(step, over, scope);
    }

    @Override
    public Runnable loads(SweepVariable.Loads over) {
      return () -> SequenceExpansion.this.loads(step, over, scope);
    }

    @Override
    public Runnable supplyVoltages(SweepVariable.SupplyVoltages over) {
      return () -> SequenceExpansion.this.supplyVoltages(step, over, scope);
    }

    @Override
    public Runnable setCurrents(SweepVariable.SetCurrents over) {
      return () -> SequenceExpansion.this.setCurrents(step, over, scope);
    }
  }

  private void supplyVoltages(Step.Sweep step, SweepVariable.SupplyVoltages over, StepScope scope) {
    for (double supplyV : over.supplyV()) {
      String key = "supply " + QuantityText.print(supplyV, Dimension.VOLTAGE);
      inner(step, scope, key, scope.conditions().atSupply(supplyV));
    }
  }

  private void inner(Step.Sweep step, StepScope scope, String key, PointConditions next) {
    all(step.does(), scope.with(step.over().inWords(), key, next));
  }

  private void temperatures(Step.Sweep step, SweepVariable.Temperatures over, StepScope scope) {
    for (double degC : over.temperatureDegC()) {
      String bare = QuantityText.print(degC, Dimension.TEMPERATURE);
      int stay = stays.merge(String.join("/", scope.keys()) + "/" + bare, 1, Integer::sum);
      TemperatureRule rule =
          new TemperatureRule(
              stayCount++, over.rampKPerS().orElse(Double.POSITIVE_INFINITY), over.soak(), false);
      String key = stay == 1 ? bare : bare + " #" + stay;
      PointConditions there = scope.conditions().atTemperature(degC);
      all(over.meanwhile(), scope.with(rule).with(over.inWords(), key, there).whileSoaking());
      inner(step, scope.with(rule), key, there);
    }
  }

  private void ranges(Step.Sweep step, SweepVariable.RangesOf over, StepScope scope) {
    if (refusedInside(step, scope)) {
      return;
    }
    Set<String> known = datasheet.ranges().keySet();
    for (LocatedValue<String> name : named(step, over.names(), known)) {
      Optional<Datasheet.Range> range = datasheet.range(name.value());
      if (range.isEmpty()) {
        String found =
            "the datasheet '%s' has no range %s"
                .formatted(datasheet.name(), FileMessageText.quoted(name.value()));
        unknown(name, found, known);
      } else {
        double nominalA = range.get().nominalA();
        inner(step, scope, name.value(), scope.conditions().inRange(name.value(), nominalA));
      }
    }
  }

  private void slots(Step.Sweep step, SweepVariable.Slots over, StepScope scope) {
    if (slots.isEmpty() && over.names().isEmpty()) {
      all(step.does(), scope);
      return;
    }
    for (LocatedValue<String> name : named(step, over.names(), slots)) {
      if (slots.contains(name.value())) {
        String key = "slot " + name.value();
        inner(step, scope, key, scope.conditions().inSlot(name.value()));
      } else {
        unknown(name, "slot " + FileMessageText.quoted(name.value()) + " is not filled", slots);
      }
    }
  }

  private static List<LocatedValue<String>> named(
      Step.Sweep step, List<LocatedValue<String>> names, Collection<String> all) {
    return names.isEmpty()
        ? all.stream().map(n -> new LocatedValue<>(step.place(), n)).toList()
        : names;
  }

  private void loads(Step.Sweep step, SweepVariable.Loads over, StepScope scope) {
    if (over.kind() != SweepVariable.LoadKind.RESISTANCE && scope.conditions().range().isEmpty()) {
      fault(
          step.place(),
          "loads by voltage stand outside a range",
          "'in ranges: ...' around them, which tells the current");
      return;
    }
    if (over.directions().isEmpty()) {
      over.values().forEach(value -> load(step, over, scope, value, Optional.empty()));
    }
    for (SweepDirection direction : over.directions()) {
      List<Double> values = new ArrayList<>(over.values());
      values.sort(
          direction == SweepDirection.UP ? Comparator.naturalOrder() : Comparator.reverseOrder());
      values.forEach(value -> load(step, over, scope, value, Optional.of(direction)));
    }
  }

  private void load(
      Step.Sweep step,
      SweepVariable.Loads over,
      StepScope scope,
      double value,
      Optional<SweepDirection> direction) {
    OptionalDouble volt = OptionalDouble.empty();
    double ohm = value;
    if (over.kind() != SweepVariable.LoadKind.RESISTANCE) {
      volt = voltage(step, over.kind(), scope.conditions(), value);
      double ampere = Math.abs(current(scope.conditions()));
      if (volt.isEmpty() || refusedAtNoCurrent(step, ampere)) {
        return;
      }
      ohm = SweepValueForms.tidy(volt.getAsDouble() / ampere);
    }
    String key =
        QuantityText.print(ohm, Dimension.RESISTANCE)
            + direction.map(d -> " " + d.text()).orElse("");
    inner(step, scope, key, scope.conditions().atLoad(ohm, volt, direction));
  }

  private static double current(PointConditions c) {
    return c.setA().orElse(c.nominalA().orElseThrow());
  }

  private boolean refusedAtNoCurrent(Step.Sweep step, double ampere) {
    if (ampere == 0) {
      fault(step.place(), "loads by voltage at a set current of 0", "loads by resistance there");
    }
    return ampere == 0;
  }

  private OptionalDouble voltage(
      Step.Sweep step, SweepVariable.LoadKind kind, PointConditions c, double value) {
    if (kind == SweepVariable.LoadKind.VOLTAGE) {
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
    return OptionalDouble.of(SweepValueForms.tidy(value * full.get()));
  }

  private void setCurrents(Step.Sweep step, SweepVariable.SetCurrents over, StepScope scope) {
    if (refusedInside(step, scope)) {
      return;
    }
    for (double setA : over.setA()) {
      String key = "set " + QuantityText.print(setA, Dimension.CURRENT);
      inner(step, scope, key, scope.conditions().atSet(setA));
    }
  }

  /**
   * Range and set current must be outside a sweep of loads by voltage, since these loads follow
   * from the current.
   */
  private boolean refusedInside(Step.Sweep step, StepScope scope) {
    boolean byVoltage = scope.conditions().terminalVoltageV().isPresent();
    if (byVoltage) {
      fault(
          step.place(),
          step.over().inWords() + " stand inside loads by voltage",
          step.over().inWords() + " around the loads, since they decide the resistance");
    }
    return byVoltage;
  }

  private void task(Step.Do step, StepScope scope) {
    tried++;
    Optional<InputFault> misplaced = TaskPlacementCheck.why(step, scope, slots);
    misplaced.ifPresent(faults::add);
    AskedPartCheck.why(step, datasheet).ifPresent(faults::add);
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

  private void fault(FilePlace place, String found, String expected) {
    tried++;
    faults.add(InputFault.of(place, found, expected));
  }

  private void unknown(LocatedValue<String> name, String found, Collection<String> known) {
    tried++;
    String expected =
        known.isEmpty() ? "none, since the bench has none" : FileMessageText.oneOf(known);
    faults.add(
        new InputFault(
            name.place(), found, expected, FileMessageText.didYouMean(name.value(), known)));
  }
}
