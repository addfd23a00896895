// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BiConsumer;
import millrace.bench.Bench;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.datasheet.Datasheet;
import millrace.evidence.IncidentKind;
import millrace.evidence.PointConditions;
import millrace.fault.TrialLapFailedException;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.run.condition.ConditionSetter;
import millrace.run.control.OperatorPrompt;
import millrace.run.interlock.DewPoint;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.plausibility.PlausibilityCheck;
import millrace.run.trial.WiringFaultFinder.Look;
import millrace.sequence.Plan;

/**
 * Tries every range of a unit into a short and into the highest load of its plan, before the
 * chamber moves. It names wrong connections, a zero with which current still flows, a load that
 * differs from its setting, a meter outside the temperature band of its accuracy statement, and a
 * risk of condensation. Single-threaded.
 */
final class TrialLap {
  private static final double MOST_ZERO = 1e-3;

  private final Bench bench;
  private final Datasheet datasheet;
  private final LoopProbe loopProbe;

  TrialLap(
      Bench bench, Datasheet datasheet, ConditionSetter conditionSetter, InterlockWaiting waiting) {
    this.bench = bench;
    this.datasheet = datasheet;
    this.loopProbe = new LoopProbe(bench, conditionSetter, waiting::sleep);
  }

  /** Sets conditions and waits until the current has settled. */
  void settle(PointConditions stop) {
    loopProbe.settle(stop);
  }

  /** The fault if the meter shows a current where none can flow. */
  static Optional<String> noZero(OptionalDouble zero, Datasheet.Range range) {
    double most = MOST_ZERO * Math.abs(range.nominalA());
    if (zero.isPresent() && Math.abs(zero.getAsDouble()) <= most) {
      return Optional.empty();
    }
    String found =
        zero.isPresent()
            ? QuantityText.print(zero.getAsDouble(), Dimension.CURRENT, 3)
            : "no number";
    return Optional.of(
        "range %s: with the unit disconnected the current meter shows %s; expected less than %s. Look for a source that is not off, or a leak."
            .formatted(range.name(), found, QuantityText.print(most, Dimension.CURRENT, 2)));
  }

  /** The fault if readings cannot be right although the current is. */
  static TrialLapFailedException failed(PlausibilityCheck.Doubt doubt, PointConditions stop) {
    return failed(
        "range %s into %s: %s Check load box, leads and thermometers."
            .formatted(
                stop.range().orElse(""),
                QuantityText.print(stop.loadOhm().orElse(0), Dimension.RESISTANCE, 4),
                sentence(doubt.text())));
  }

  private static String sentence(String text) {
    return text.endsWith(".") ? text : text + ".";
  }

  /**
   * Checks the conditions of the room.
   *
   * @param roomDegC its temperature; empty without a thermometer in the room
   * @param humidity its relative humidity, a ratio; empty without a hygrometer
   * @param plan the night
   * @return what the logbook should note; empty if nothing
   */
  List<String> judgeRoom(OptionalDouble roomDegC, OptionalDouble humidity, Plan plan) {
    List<Double> stays = plan.stays();
    if (roomDegC.isPresent() && humidity.isPresent() && !stays.isEmpty()) {
      double dew = DewPoint.degC(roomDegC.getAsDouble(), Math.max(humidity.getAsDouble(), 0.01));
      double last = stays.get(stays.size() - 1);
      if (last <= dew) {
        throw failed(
            "the last temperature is %s, and the room's dew point is %s; expected the end above it, so that the unit stays dry when the door is opened. Let the sequence end warmer."
                .formatted(
                    QuantityText.print(last, Dimension.TEMPERATURE),
                    QuantityText.print(dew, Dimension.TEMPERATURE, 3)));
      }
    }
    return roomDegC.isPresent() ? bands(roomDegC.getAsDouble()) : List.of();
  }

  /**
   * Outside its temperature band the error of a meter grows by its temperature coefficient; if none
   * is stated, its accuracy statement does not hold.
   */
  private List<String> bands(double roomDegC) {
    List<String> notes = new ArrayList<>();
    for (RoleName role : List.of(RoleName.CURRENT_METER, RoleName.VOLTMETER)) {
      for (AccuracyStatement a :
          bench.file().facts(role).map(f -> f.accuracy()).orElse(List.of())) {
        if (a.bandDegC().filter(band -> !band.contains(roomDegC)).isPresent()) {
          String text =
              "the room is at %s, outside the band %s that the accuracy of the %s holds for"
                  .formatted(
                      QuantityText.print(roomDegC, Dimension.TEMPERATURE, 3),
                      a.bandDegC().get().inWords(Dimension.TEMPERATURE),
                      role.text());
          if (a.tempcoPerK() == 0) {
            throw failed(
                text
                    + ", and the bench file names no 'tempco' to carry that by. Wait for the room,"
                    + " or add it.");
          }
          notes.add(text + "; a component is added for that");
        }
      }
    }
    return notes.stream().distinct().toList();
  }

  /** The error that ends the lap. */
  static TrialLapFailedException failed(String text) {
    return new TrialLapFailedException("trial lap, " + text + " The chamber was not moved.");
  }

  /** The key of one stop. */
  static String key(String lap, PointConditions stop) {
    return "%s/%s/%s"
        .formatted(
            lap,
            stop.range().orElseThrow(),
            QuantityText.print(stop.loadOhm().orElseThrow(), Dimension.RESISTANCE, 4));
  }

  /**
   * The fault of the wiring; if no current flows, the check standard is read too.
   *
   * @return the whole message; empty if every look is good
   */
  static Optional<String> wrong(
      List<Look> looks, Datasheet sheet, Datasheet.Range range, LoopProbe loopProbe) {
    boolean nothing = looks.stream().allMatch(l -> WiringFaultFinder.nothing(l, range.nominalA()));
    OptionalDouble standard = nothing ? loopProbe.standardRatio() : OptionalDouble.empty();
    OptionalDouble rail =
        sheet
            .complianceVoltageV(range.name())
            .or(sheet::openCircuitVoltageV)
            .map(OptionalDouble::of)
            .orElse(OptionalDouble.empty());
    return WiringFaultFinder.name(
        looks, new WiringFaultFinder.Expected(range.name(), range.nominalA(), rail, standard));
  }

  /**
   * Tells the slots of several units apart, each in the lap of its own unit.
   *
   * @param slot the unit's
   * @param all of all units
   * @param operator asked to switch it off; empty if nobody shall be
   * @param notes what the logbook should keep of it
   */
  void judgeSlot(
      String slot,
      List<String> all,
      Optional<OperatorPrompt> operator,
      BiConsumer<IncidentKind, String> notes) {
    if (operator.isEmpty()) {
      notes.accept(
          IncidentKind.CAUTION,
          "not tried: whether the units of slots '%s' are swapped. 'trial lap: {ask about slots: yes}' or 'bench check --slots' has one after another switched off"
              .formatted(String.join("', '", all)));
      return;
    }
    SlotCheck check = new SlotCheck(all, datasheet, loopProbe);
    Map<String, Double> before = check.currentsA();
    String answer = operator.get().ask(SlotCheck.off(slot));
    List<String> fell = check.fallen(before);
    if (fell.isEmpty()) {
      notes.accept(
          IncidentKind.CAUTION,
          "not known: whether units are swapped; no reading fell when the unit of slot '%s' was to be switched off (the answer was '%s')"
              .formatted(slot, answer));
      return;
    }
    operator.get().ask(SlotCheck.on());
    SlotCheck.swapped(slot, fell)
        .ifPresent(
            wrong -> {
              throw failed("slot '%s': %s".formatted(slot, wrong));
            });
    notes.accept(
        IncidentKind.OPERATOR,
        "slot '%s': its reading fell when its unit was switched off".formatted(slot));
  }

  /** Ends the lap if the readings of a range show a fault. */
  void judge(List<Look> looks, Datasheet.Range range) {
    wrong(looks, datasheet, range, loopProbe)
        .ifPresent(
            text -> {
              throw failed(text);
            });
  }
}
