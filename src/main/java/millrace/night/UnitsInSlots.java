// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.bench.BenchFile;
import millrace.datasheet.Datasheet;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/** Assigns units to slots. */
public final class UnitsInSlots {
  private UnitsInSlots() {}

  /** The units of the option {@code --unit}: one serial number, or several as SLOT=SN. */
  public static List<UnitUnderTest> orders(List<String> given, Datasheet sheet) {
    Map<String, UnitUnderTest> bySlot = new LinkedHashMap<>();
    for (String word : given) {
      int equals = word.indexOf('=');
      String slot = equals < 0 ? "" : word.substring(0, equals);
      String serial = word.substring(equals + 1);
      SerialNumberCheck.check("--unit", serial, sheet);
      if (bySlot.put(slot, UnitUnderTest.in(slot, serial)) != null) {
        throw wrong(
            slot.isEmpty() ? "several units without a slot" : "two units in slot " + slot,
            "one per slot, as --unit SLOT=SN");
      }
    }
    return List.copyOf(bySlot.values());
  }

  /** The slots of some units on a bench, in their order; empty for a bench without slots. */
  static List<String> of(List<UnitUnderTest> orders, BenchFile bench) {
    List<String> known = List.copyOf(bench.slots().keySet());
    List<String> slots = new ArrayList<>();
    for (UnitUnderTest order : orders) {
      if (order.slot().isPresent() && !known.contains(order.slot().get())) {
        throw wrong(
            "there is no slot " + FileMessageText.quoted(order.slot().get()),
            known.isEmpty() ? "no slot: the bench has none" : FileMessageText.oneOf(known));
      } else if (order.slot().isEmpty() && known.size() > 1) {
        throw wrong(
            "the unit has no slot, and the bench has " + known.size(),
            "--unit SLOT=SN with " + FileMessageText.oneOf(known));
      }
      order.slot().or(() -> known.stream().findFirst()).ifPresent(slots::add);
    }
    return slots;
  }

  private static BadInputException wrong(String found, String expected) {
    return new BadInputException(
        new InputFault(
            FilePlace.of("--unit"), found, expected, "Name each unit with the slot it sits in."));
  }
}
