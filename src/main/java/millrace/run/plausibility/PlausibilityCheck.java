// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.BenchFile;
import millrace.bench.RoleFacts;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointConditions;
import millrace.evidence.Reading;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.run.condition.ConditionSetter;
import millrace.run.plausibility.LoadResistanceCheck.Mean;

/**
 * Finds readings of a point that cannot be right although every instrument answered: no current or
 * a reversed one, a ratio of voltage to current that is not the load, thermometers that disagree.
 * Single-threaded.
 */
public final class PlausibilityCheck {
  private static final double NOTHING = 1e-3;
  private static final double LITTLE = 0.5;
  private static final double MUCH = 2;

  /** A smaller share of the nominal current is rounding. */
  private static final double LEAST = 1e-9;

  /** A load with less voltage than this is a short to any source. */
  private static final double SHORT_V = 0.05;

  /**
   * How much a unit may differ from the air after its soak, by its own power, uneven air and
   * thermal lag, K.
   */
  private static final double OWN_WARMTH_K = 2;

  /** Air is the more uneven the farther it is from the room's temperature, K per K. */
  private static final double UNEVEN = 0.02;

  private static final double ROOM_DEGC = 23;

  /** Above this difference chamber and room count as different, K. */
  private static final double FAR_K = 8;

  private final BenchFile bench;
  private final ConditionSetter conditionSetter;

  /**
   * Checks for one bench.
   *
   * @param bench gives accuracy and wiring
   * @param conditionSetter says under which conditions is read
   */
  public PlausibilityCheck(BenchFile bench, ConditionSetter conditionSetter) {
    this.bench = bench;
    this.conditionSetter = conditionSetter;
  }

  /**
   * Why a point must be flagged.
   *
   * @param text in words
   * @param believed true if the readings may nevertheless be what the unit gives
   */
  public record Doubt(String text, boolean believed) {}

  /** Why the point must be flagged; empty if it is plausible. */
  public Optional<Doubt> doubt(PointConditions conditions, List<Reading> readings) {
    Optional<Mean> current = mean(readings, MeasuredSignal.CURRENT, RoleName.CURRENT_METER);
    Optional<String> flow = flow(conditions, current);
    if (flow.isPresent()) {
      return Optional.of(new Doubt(flow.get(), true));
    }
    return resistance(conditions, readings, current)
        .or(() -> thermometers(readings))
        .or(() -> shunt(readings))
        .map(text -> new Doubt(text, false));
  }

  private Optional<Mean> mean(List<Reading> readings, MeasuredSignal signal, RoleName role) {
    return Mean.of(readings, signal, conditionSetter.fullScale(role));
  }

  /** Whether the nominal current flows; empty if none is asked for or it cannot be decided. */
  public Optional<Boolean> flows(PointConditions conditions, List<Reading> readings) {
    double wanted = wanted(conditions);
    return mean(readings, MeasuredSignal.CURRENT, RoleName.CURRENT_METER)
        .filter(current -> wanted != 0)
        .map(current -> current.value() / wanted >= NOTHING);
  }

  /** Why a point must be flagged for its current alone, whatever the load is. */
  public Optional<String> nothing(PointConditions conditions, List<Reading> readings) {
    return flows(conditions, readings).filter(flows -> !flows).isPresent()
        ? flow(conditions, mean(readings, MeasuredSignal.CURRENT, RoleName.CURRENT_METER))
        : Optional.empty();
  }

  private static double wanted(PointConditions conditions) {
    return conditions.setA().orElse(conditions.nominalA().orElse(0));
  }

  /** A current that no unit gives that works, is connected correctly and is in its range. */
  private static Optional<String> flow(PointConditions conditions, Optional<Mean> current) {
    double nominal = conditions.nominalA().orElse(0);
    double wanted = wanted(conditions);
    if (wanted == 0 || current.isEmpty()) {
      return Optional.empty();
    }
    double found = current.get().value();
    boolean shorted = conditions.loadOhm().orElse(Double.MAX_VALUE) * Math.abs(wanted) < SHORT_V;
    String asked = "asked are " + print(wanted);
    if (found / wanted < NOTHING) {
      return Optional.of(
          "no current flows (%s, %s): the unit is dead or off, a lead is open or reversed, or a fuse is blown"
              .formatted(print(Math.abs(found) < LEAST * Math.abs(wanted) ? 0 : found), asked));
    } else if (shorted && found / wanted < LITTLE && Math.abs(wanted) > LITTLE * nominal) {
      return Optional.of(
          "only %s flows into a short, %s: the unit is broken, or something lies across its output"
              .formatted(print(found), asked));
    } else if (Math.abs(found) > MUCH * Math.max(Math.abs(wanted), nominal)) {
      return Optional.of(
          "%s flows, %s: the unit is broken, or in another range".formatted(print(found), asked));
    }
    return Optional.empty();
  }

  private static String print(double ampere) {
    return QuantityText.print(ampere, Dimension.CURRENT, 4);
  }

  /** Voltage over current against the setting of the load. */
  private Optional<String> resistance(
      PointConditions conditions, List<Reading> readings, Optional<Mean> current) {
    Optional<Mean> voltage = mean(readings, MeasuredSignal.VOLTAGE, RoleName.VOLTMETER);
    if (current.isEmpty() || voltage.isEmpty() || conditions.loadOhm().isEmpty()) {
      return Optional.empty();
    }
    double ohm = conditions.loadOhm().getAsDouble();
    return LoadResistanceCheck.trouble(bench, ohm, current.get(), voltage.get());
  }

  /** Common practice, no source: the two agree within what both promise and the unit's warmth. */
  private Optional<String> thermometers(List<Reading> readings) {
    OptionalDouble unit = first(readings, MeasuredSignal.UNIT_TEMPERATURE);
    OptionalDouble air = first(readings, MeasuredSignal.CHAMBER_TEMPERATURE);
    double promised = promisedK(RoleName.UNIT_THERMOMETER) + promisedK(RoleName.CHAMBER);
    if (unit.isEmpty() || air.isEmpty() || promised == 0) {
      return Optional.empty();
    }
    double most = promised + OWN_WARMTH_K + UNEVEN * Math.abs(air.getAsDouble() - ROOM_DEGC);
    double apart = unit.getAsDouble() - air.getAsDouble();
    return Math.abs(apart) <= most
        ? Optional.empty()
        : Optional.of(
            "the unit's thermometer shows %s and the chamber %s; expected them within %s of one another"
                .formatted(
                    QuantityText.print(unit.getAsDouble(), Dimension.TEMPERATURE, 4),
                    QuantityText.print(air.getAsDouble(), Dimension.TEMPERATURE, 4),
                    QuantityText.print(most, Dimension.TEMPERATURE_DIFFERENCE, 2)));
  }

  /** The drift of a shunt inside the chamber would count as the unit's (methods.md 5.8). */
  private static Optional<String> shunt(List<Reading> readings) {
    OptionalDouble own = first(readings, MeasuredSignal.SHUNT_TEMPERATURE);
    OptionalDouble air = first(readings, MeasuredSignal.CHAMBER_TEMPERATURE);
    if (own.isEmpty() || air.isEmpty()) {
      return Optional.empty();
    }
    double room = first(readings, MeasuredSignal.LAB_TEMPERATURE).orElse(ROOM_DEGC);
    double toAir = Math.abs(own.getAsDouble() - air.getAsDouble());
    double toRoom = Math.abs(own.getAsDouble() - room);
    return Math.abs(air.getAsDouble() - room) < FAR_K || toAir >= toRoom
        ? Optional.empty()
        : Optional.of(
            "the shunt is at %s, nearer to the chamber's %s than to the room's %s: a shunt inside the chamber is not measured with. Put it and its thermometer outside"
                .formatted(
                    QuantityText.print(own.getAsDouble(), Dimension.TEMPERATURE, 4),
                    QuantityText.print(air.getAsDouble(), Dimension.TEMPERATURE, 4),
                    QuantityText.print(room, Dimension.TEMPERATURE, 4)));
  }

  /** Its accuracy at its widest, K; 0 where none is stated. */
  private double promisedK(RoleName role) {
    return bench.facts(role).map(RoleFacts::accuracy).orElse(List.of()).stream()
        .mapToDouble(AccuracyStatement::absolute)
        .max()
        .orElse(0);
  }

  private static OptionalDouble first(List<Reading> readings, MeasuredSignal signal) {
    return Reading.numbers(readings, signal).findFirst();
  }
}
