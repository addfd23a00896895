// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import millrace.bench.BenchFile.Entry;
import millrace.bench.role.RoleName;
import millrace.calibration.Shunt;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;

/** Checks what one part of a bench file demands of another. */
final class BenchFileConsistency {
  private BenchFileConsistency() {}

  static void check(BenchFile bench, String file, InputFaultList faults) {
    needsPlace(bench, faults);
    needsShunt(bench, file, faults);
    needsSlots(bench, faults);
    needsRole(bench, file, faults);
  }

  private static void needsPlace(BenchFile bench, InputFaultList faults) {
    Optional<Entry> voltmeter = bench.in(RoleName.VOLTMETER);
    if (voltmeter.isPresent() && bench.wiring().voltmeter().isEmpty()) {
      faults.add(
          new InputFault(
              voltmeter.get().place(),
              "'%s' is a voltmeter, and nothing says where it sits"
                  .formatted(voltmeter.get().name()),
              "'upstream' or 'across load', since its own current counts or does not",
              "Add 'wiring: {voltmeter: ...}'."));
    }
  }

  private static void needsShunt(BenchFile bench, String file, InputFaultList faults) {
    Optional<Entry> voltmeter = bench.in(RoleName.SHUNT_VOLTMETER);
    Optional<Shunt> shunt = bench.wiring().shunt();
    if (voltmeter.isEmpty() && shunt.isPresent()) {
      faults.add(
          FilePlace.of(file),
          "its wiring has a shunt, and no instrument reads it",
          "an instrument with the role 'shunt voltmeter'");
    } else if (voltmeter.isPresent() && shunt.isEmpty()) {
      faults.add(
          new InputFault(
              voltmeter.get().place(),
              "'%s' reads a shunt, and nothing says what shunt".formatted(voltmeter.get().name()),
              "its value and uncertainty",
              "Add 'wiring: {shunt: {value: ..., u: ...}}'."));
    } else if (voltmeter.isPresent()) {
      shuntAlone(bench, voltmeter.get(), faults);
    }
  }

  private static void shuntAlone(BenchFile bench, Entry voltmeter, InputFaultList faults) {
    if (bench.shuntInUse().isEmpty()) {
      faults.add(
          new InputFault(
              voltmeter.place(),
              "'%s' reads the current through a shunt, and '%s' is a current meter"
                  .formatted(
                      voltmeter.name(), bench.in(RoleName.CURRENT_METER).orElseThrow().name()),
              "one of both",
              "Take out the other, or describe it in a bench file of its own."));
    }
    if (bench.wiring().shunt().orElseThrow().goesWithTemperature()
        && bench.in(RoleName.SHUNT_THERMOMETER).isEmpty()) {
      faults.add(
          new InputFault(
              voltmeter.place(),
              "'%s' reads a shunt that goes with its temperature, and nothing reads that"
                  .formatted(voltmeter.name()),
              "an instrument with the role 'shunt thermometer'",
              "The unit's temperature is no substitute; a person can read it too ('by hand')."));
    }
  }

  /** A zero opens the switch, so that a position is needed to close it again. */
  private static void needsSlots(BenchFile bench, InputFaultList faults) {
    Optional<Entry> found = bench.in(RoleName.SWITCH);
    if (found.isPresent() && bench.slots().isEmpty()) {
      faults.add(
          new InputFault(
              found.get().place(),
              "'%s' is a switch, and nothing says which position connects the unit"
                  .formatted(found.get().name()),
              "a slot for each unit, also where there is only one",
              "Add 'slots: {NAME: POSITION}'."));
    }
  }

  private static void needsRole(BenchFile bench, String file, InputFaultList faults) {
    Interlocks watched = bench.interlocks();
    Map<RoleName, Optional<String>> asking = new EnumMap<>(RoleName.class);
    boolean switched = !bench.slots().isEmpty() || !bench.standards().isEmpty();
    asking.put(
        RoleName.SWITCH, switched ? Optional.of("slots or check standards") : Optional.empty());
    asking.put(
        RoleName.CHAMBER,
        when(
            watched.chamber().bounded()
                || watched.chamberAlarm()
                || watched.dewMarginK().isPresent(),
            "an interlock on the chamber"));
    asking.put(
        RoleName.UNIT_THERMOMETER,
        when(watched.unit().bounded(), "an interlock on the unit's temperature"));
    asking.put(
        RoleName.LAB_THERMOMETER,
        when(watched.dewMarginK().isPresent(), "an interlock on the dew point"));
    asking.put(RoleName.SUPPLY, watched.supplyA().map(a -> "an interlock on the supply's current"));
    asking.put(
        RoleName.HYGROMETER,
        when(
            watched.humidity().isPresent() || watched.dewMarginK().isPresent(),
            "an interlock on humidity or dew point"));
    asking.forEach(
        (role, what) -> {
          if (what.isPresent() && bench.in(role).isEmpty()) {
            faults.add(
                FilePlace.of(file),
                "it has " + what.get() + ", and no instrument that is " + role.text(),
                "an instrument with that role");
          }
        });
  }

  private static Optional<String> when(boolean asked, String what) {
    return asked ? Optional.of(what) : Optional.empty();
  }
}
