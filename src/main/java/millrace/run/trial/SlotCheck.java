// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.datasheet.Datasheet;
import millrace.evidence.PointConditions;

/**
 * Checks which unit is connected to which slot: one unit is switched off, and the reading of its
 * slot must fall.
 */
final class SlotCheck {
  private static final double FELL = 0.5;

  private final List<String> slots;
  private final Datasheet datasheet;
  private final LoopProbe loopProbe;

  SlotCheck(List<String> slots, Datasheet datasheet, LoopProbe loopProbe) {
    this.slots = List.copyOf(slots);
    this.datasheet = datasheet;
    this.loopProbe = loopProbe;
  }

  /** The request to the person. */
  static String off(String slot) {
    return "Switch off the unit that is meant for slot '%s', at its own switch or at the mains (touch no terminal), then press Enter."
        .formatted(slot);
  }

  /** The request afterwards. */
  static String on() {
    return "Take your hands off, switch it on again, then press Enter.";
  }

  /** The currents into a short in the first range, by slot, A. */
  Map<String, Double> currentsA() {
    Map<String, Double> currents = new LinkedHashMap<>();
    Datasheet.Range range = datasheet.ranges().values().iterator().next();
    for (String slot : slots) {
      PointConditions into =
          TrialLapLoads.of(PointConditions.NONE.inSlot(slot), datasheet, range).get(0);
      currents.put(slot, loopProbe.see(into).look().currentA().orElse(0));
    }
    return currents;
  }

  /** The slots in which no current flows any more. */
  List<String> fallen(Map<String, Double> beforeA) {
    Map<String, Double> now = currentsA();
    return slots.stream()
        .filter(n -> Math.abs(now.get(n)) < FELL * Math.abs(beforeA.get(n)))
        .toList();
  }

  /** What is wrong; empty if the reading of the unit that was switched off fell, and no other. */
  static Optional<String> swapped(String off, List<String> fell) {
    if (fell.equals(List.of(off))) {
      return Optional.empty();
    }
    String found =
        fell.isEmpty()
            ? "no reading fell"
            : "the reading of slot '%s' fell".formatted(String.join("', '", fell));
    return Optional.of(
        "its unit was switched off and %s; expected that of slot '%s'. The slots are swapped or mislabelled: exchange the leads, or the positions in the bench file."
            .formatted(found, off));
  }
}
