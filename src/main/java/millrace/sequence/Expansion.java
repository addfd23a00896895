package millrace.sequence;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.datasheet.Datasheet;
import millrace.document.Located;
import millrace.document.Words;
import millrace.evidence.Conditions;
import millrace.evidence.Direction;
import millrace.evidence.PointKind;
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
  public static final int MOST_POINTS = 1_000_000;

  private final Datasheet datasheet;
  private final List<String> slots;
  private final SequenceFile sequence;
  private final Faults faults = new Faults();
  private final List<PlannedPoint> points = new ArrayList<>();
  private final Map<String, Integer> seen = new HashMap<>();
  private int stays;
  private boolean tooMany;

  private Expansion(SequenceFile sequence, Datasheet datasheet, List<String> slots) {
    this.sequence = sequence;
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
    Expansion expansion = new Expansion(sequence, datasheet, slots);
    expansion.all(sequence.steps(), Scope.START);
    expansion.faults.throwIfAny();
    return new Plan(sequence.title(), sequence.compute(), expansion.points);
  }

  /** What the sweeps around a step have settled. */
  private record Scope(
      Map<String, String> path, Conditions conditions, Optional<TemperatureRule> temperature) {
    static final Scope START = new Scope(Map.of(), Conditions.NONE, Optional.empty());

    Scope with(String kind, String key, Conditions next) {
      Map<String, String> longer = new LinkedHashMap<>(path);
      longer.put(kind, key);
      return new Scope(longer, next, temperature);
    }

    Scope with(TemperatureRule rule) {
      return new Scope(path, conditions, Optional.of(rule));
    }
  }

  private void all(List<Step> steps, Scope scope) {
    steps.forEach(step -> one(step, scope));
  }

  private void one(Step step, Scope scope) {
    if (step instanceof Step.Temperatures s) {
      temperatures(s, scope);
    } else if (step instanceof Step.RangesOf s) {
      ranges(s, scope);
    } else if (step instanceof Step.Slots s) {
      slots(s, scope);
    } else if (step instanceof Step.Loads s) {
      loads(s, scope);
    } else if (step instanceof Step.SupplyVoltages s) {
      supplies(s, scope);
    } else if (step instanceof Step.SetCurrents s) {
      setCurrents(s, scope);
    } else if (step instanceof Step.Do s) {
      task(s, scope);
    } else if (step instanceof Step.Part s) {
      throw new IllegalArgumentException("part " + s.file() + " was not put in");
    }
  }

  private void temperatures(Step.Temperatures s, Scope scope) {
    for (double degC : s.temperatureDegC()) {
      Conditions next = scope.conditions().atTemperature(degC);
      TemperatureRule rule =
          new TemperatureRule(stays++, s.rampKPerS().orElse(Double.POSITIVE_INFINITY), s.soak());
      all(
          s.does(),
          scope
              .with("temperature", Quantities.print(degC, Dimension.TEMPERATURE), next)
              .with(rule));
    }
  }

  private void ranges(Step.RangesOf s, Scope scope) {
    List<Located<String>> names =
        s.names().isEmpty()
            ? datasheet.ranges().keySet().stream().map(n -> new Located<>(s.place(), n)).toList()
            : s.names();
    for (Located<String> name : names) {
      Optional<Datasheet.Range> range = datasheet.range(name.value());
      if (range.isEmpty()) {
        faults.add(
            new Fault(
                name.place(),
                "the datasheet '%s' has no range %s"
                    .formatted(datasheet.name(), Words.quoted(name.value())),
                Words.oneOf(datasheet.ranges().keySet()),
                Words.didYouMean(name.value(), datasheet.ranges().keySet())));
      } else {
        all(s.does(), scope.with("range", name.value(), inRange(scope, range.get())));
      }
    }
  }

  private static Conditions inRange(Scope scope, Datasheet.Range range) {
    return scope.conditions().inRange(range.name(), range.nominalA());
  }

  private void slots(Step.Slots s, Scope scope) {
    List<Located<String>> names =
        s.names().isEmpty()
            ? slots.stream().map(n -> new Located<>(s.place(), n)).toList()
            : s.names();
    if (slots.isEmpty()) {
      all(s.does(), scope);
      return;
    }
    for (Located<String> name : names) {
      if (!slots.contains(name.value())) {
        faults.add(
            name.place(),
            "slot " + Words.quoted(name.value()) + " is not filled",
            Words.oneOf(slots));
        continue;
      }
      Conditions next = scope.conditions().inSlot(name.value());
      all(s.does(), scope.with("slot", "slot " + name.value(), next));
    }
  }

  private void loads(Step.Loads s, Scope scope) {
    Conditions c = scope.conditions();
    if (s.kind() != Step.LoadKind.RESISTANCE && c.range().isEmpty()) {
      faults.add(s.place(), "loads by voltage stand outside a range", "'in ranges:' around them");
      return;
    }
    List<Direction> directions = s.directions();
    for (Direction direction : directions) {
      List<Double> values = new ArrayList<>(s.values());
      if (direction == Direction.DOWN) {
        java.util.Collections.reverse(values);
      }
      for (double value : values) {
        oneLoad(s, scope, value, direction);
      }
    }
  }

  private void oneLoad(Step.Loads s, Scope scope, double value, Direction direction) {
    Conditions c = scope.conditions();
    OptionalDouble voltage = OptionalDouble.empty();
    double ohm = value;
    if (s.kind() != Step.LoadKind.RESISTANCE) {
      Optional<Double> full = datasheet.complianceVoltageV(c.range().orElseThrow());
      if (s.kind() == Step.LoadKind.SHARE_OF_COMPLIANCE && full.isEmpty()) {
        faults.add(
            s.place(),
            "loads are a share of the compliance voltage, which the datasheet does not promise",
            "'compliance: {voltage: ...}' in the datasheet");
        return;
      }
      double v = s.kind() == Step.LoadKind.VOLTAGE ? value : value * full.orElseThrow();
      voltage = OptionalDouble.of(v);
      ohm = v / Math.abs(c.nominalA().orElseThrow());
    }
    Conditions next = c.atLoad(ohm, voltage, Optional.of(direction));
    String key = Quantities.print(ohm, Dimension.RESISTANCE, 6) + " " + direction.text();
    all(s.does(), scope.with("load", key, next));
  }

  private void supplies(Step.SupplyVoltages s, Scope scope) {
    for (double supplyV : s.supplyV()) {
      Conditions next = scope.conditions().atSupply(supplyV);
      String key = "supply " + Quantities.print(supplyV, Dimension.VOLTAGE);
      all(s.does(), scope.with("supply", key, next));
    }
  }

  private void setCurrents(Step.SetCurrents s, Scope scope) {
    for (double setA : s.setA()) {
      Conditions next = scope.conditions().atSet(setA);
      String key = "set " + Quantities.print(setA, Dimension.CURRENT);
      all(s.does(), scope.with("set", key, next));
    }
  }

  private void task(Step.Do s, Scope scope) {
    if (points.size() >= MOST_POINTS) {
      refuse(s.place());
      return;
    }
    Conditions c = scope.conditions();
    boolean reads = s.task().kind().isPresent() && s.task().kind().get() != PointKind.TRIAL;
    if (reads && c.range().isEmpty() && !(s.task() instanceof Task.CheckStandard)) {
      faults.add(s.place(), "readings are asked for outside a range", "'in ranges:' around them");
      return;
    }
    List<String> path = List.copyOf(scope.path().values());
    String word = s.task().word();
    String bare =
        String.join("/", path) + (word.isEmpty() ? "" : (path.isEmpty() ? "" : "/") + word);
    int visit = seen.merge(bare, 1, Integer::sum) - 1;
    String key = visit == 0 ? bare : bare + " #" + (visit + 1);
    Conditions visited = c.onVisit(visit);
    SequenceFile.Rules rules = sequence.rules();
    points.add(
        new PlannedPoint(
            points.size() + 1,
            key,
            path,
            s.task(),
            visited,
            scope.temperature(),
            new SequenceFile.Rules(
                s.readings().orElse(rules.readings()),
                s.settle().orElse(rules.settle()),
                s.onFailure().orElse(rules.onFailure())),
            s.place()));
  }

  private void refuse(Place place) {
    if (!tooMany) {
      tooMany = true;
      faults.add(
          place, "the sequence comes to more than " + MOST_POINTS + " points", "fewer points");
    }
  }
}
