// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.FileMessageText;

/**
 * Assigns boards to slots: each is scanned when it is inserted and again before the first
 * measurement. Single-threaded.
 */
final class SlotMap {
  private final List<String> slots;
  private final Map<String, String> serials = new LinkedHashMap<>();

  SlotMap(List<String> slots) {
    this.slots = slots;
  }

  boolean full() {
    return serials.size() == slots.size();
  }

  boolean empty() {
    return serials.isEmpty();
  }

  /** The reason why a board cannot be put into a slot; empty if it was put in. */
  Optional<String> put(String slot, String serial) {
    if (!slots.contains(slot)) {
      return Optional.of(
          "%s is no slot of this bench; it has %s."
              .formatted(FileMessageText.quoted(slot), String.join(", ", slots)));
    }
    if (serials.containsKey(slot)) {
      return Optional.of("slot %s holds %s already.".formatted(slot, serials.get(slot)));
    }
    serials.put(slot, serial);
    return Optional.empty();
  }

  boolean holds(String serial) {
    return serials.containsValue(serial);
  }

  /** Slots that hold a board, in the order of the bench. */
  List<String> filled() {
    List<String> filled = new ArrayList<>(slots);
    filled.retainAll(serials.keySet());
    return filled;
  }

  String serial(String slot) {
    return Optional.ofNullable(serials.get(slot)).orElseThrow();
  }
}
