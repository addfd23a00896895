// SPDX-License-Identifier: Apache-2.0
package millrace.planning.cause;

import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetPart;
import millrace.evidence.part.AskedPartValue;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import org.jspecify.annotations.Nullable;

/** The question to a person for a value of a part. Stateless. */
final class PartQuestions {
  private PartQuestions() {}

  static String of(AskedPartValue asked, Datasheet datasheet) {
    String of = asked.of();
    DatasheetPart part = datasheet.parts().get(of);
    return switch (asked.quantity()) {
      case VOLTAGE -> voltage(of, part);
      case RESISTANCE -> resistance(of, part);
      case INPUT_OFFSET ->
          "Measure the voltage between the inputs of %s, positive where it makes the current larger. How much is it?"
              .formatted(of);
      case INPUT_CURRENT ->
          "Measure the input current of %s, positive where it makes the current larger. How much is it?"
              .formatted(of);
      case BASE_SHARE ->
          "Measure the base current of %s and divide it by its emitter current. How much is it, in %% or ppm?"
              .formatted(of);
      case CURRENT -> current(asked);
    };
  }

  private static String voltage(String of, @Nullable DatasheetPart part) {
    return "Measure the voltage %s %s with a calibrated voltmeter. How much is it?"
        .formatted(part instanceof DatasheetPart.Reference ? "of reference" : "across", of);
  }

  private static String resistance(String of, @Nullable DatasheetPart part) {
    return part instanceof DatasheetPart.Resistor
        ? "With the unit off, measure the resistance of %s by four wires, one end of it lifted. How much is it?"
            .formatted(of)
        : "With the source off, put a few volts on the output and measure the current that leaks."
            + " How much is the voltage divided by it?";
  }

  private static String current(AskedPartValue asked) {
    String at =
        asked.terminalV().isPresent()
            ? "at "
                + QuantityText.print(asked.terminalV().getAsDouble(), Dimension.VOLTAGE, 3)
                + " at the terminals"
            : "into a short";
    return "With the source off, take the bench's current meter and voltmeter out and put another calibrated current meter in. How much is the current of range %s %s?"
        .formatted(asked.of(), at);
  }
}
