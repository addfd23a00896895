// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetPart;
import millrace.document.FileMessageText;
import millrace.evidence.part.AskedPartValue;
import millrace.evidence.part.PartQuantity;
import millrace.fault.InputFault;

/** Tells why a datasheet has no such thing as a question asks for. */
final class AskedPartCheck {
  private AskedPartCheck() {}

  static Optional<InputFault> why(Step.Do step, Datasheet datasheet) {
    return step.task().asked().flatMap(asked -> why(step, asked, datasheet));
  }

  private static Optional<InputFault> why(Step.Do step, AskedPartValue asked, Datasheet datasheet) {
    Map<String, Set<PartQuantity>> known = known(datasheet);
    Set<PartQuantity> has = known.getOrDefault(asked.of(), Set.of());
    if (has.contains(asked.quantity())) {
      return Optional.empty();
    }
    List<String> others =
        known.entrySet().stream()
            .filter(e -> e.getValue().contains(asked.quantity()))
            .map(Map.Entry::getKey)
            .toList();
    String found =
        "the datasheet '%s' has no %s of %s"
            .formatted(
                datasheet.name(), asked.quantity().text(), FileMessageText.quoted(asked.of()));
    String expected =
        others.isEmpty() ? "a part that the datasheet names" : FileMessageText.oneOf(others);
    return Optional.of(
        new InputFault(
            step.place(), found, expected, FileMessageText.didYouMean(asked.of(), others)));
  }

  private static Map<String, Set<PartQuantity>> known(Datasheet datasheet) {
    Map<String, Set<PartQuantity>> known = new LinkedHashMap<>();
    datasheet.ranges().keySet().forEach(r -> known.put(r, Set.of(PartQuantity.CURRENT)));
    datasheet.parts().forEach((name, part) -> known.put(name, of(part)));
    return known;
  }

  private static Set<PartQuantity> of(DatasheetPart part) {
    if (part instanceof DatasheetPart.Resistor) {
      return Set.of(PartQuantity.RESISTANCE, PartQuantity.VOLTAGE);
    }
    if (part instanceof DatasheetPart.Amplifier) {
      return Set.of(PartQuantity.INPUT_OFFSET, PartQuantity.INPUT_CURRENT);
    }
    if (part instanceof DatasheetPart.PassDevice) {
      return Set.of(PartQuantity.BASE_SHARE);
    }
    return part instanceof DatasheetPart.Leakage
        ? Set.of(PartQuantity.RESISTANCE)
        : Set.of(PartQuantity.VOLTAGE);
  }
}
