// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import java.util.List;
import millrace.quantity.Dimension;

/** A first sequence: the usual night, or the same at room temperature. */
public final class StarterSequence {
  private StarterSequence() {}

  /**
   * Asks the questions and writes the file.
   *
   * @param ask asks the person
   * @return the text of the file
   */
  public static String text(StarterFileInterview ask) {
    StringBuilder file = new StringBuilder();
    file.append("# What a run does. 'millrace schema sequence' lists every key; the files in\n");
    file.append("# sequences/ teach the rest.\n");
    file.append("sequence: %s\n".formatted(YamlTextEscaping.of(ask.text("What is it called", ""))));
    int count = ask.count("How many readings at each point", 1, 10_000, 10);
    String cycles =
        ask.positive("How many line cycles does each integrate", Dimension.NUMBER, "10");
    file.append("readings: {count: %s, line cycles: %s}\n".formatted(count, cycles));
    String wait = ask.quantity("How long to wait after a change", Dimension.TIME, "1 s");
    file.append("settle: {wait: %s}\n".formatted(wait));
    file.append("steps:\n");
    if (ask.yes("Begin with a trial lap of every range", true)) {
      file.append("  - in slots: all\n    do: trial lap\n");
    }
    body(file, ask);
    return file.toString();
  }

  private static void body(StringBuilder file, StarterFileInterview ask) {
    String indent = "  ";
    if (ask.yes("Is there a chamber", true)) {
      List<String> degC =
          ask.quantities(
              "Temperatures in their order, the hot ones first",
              Dimension.TEMPERATURE,
              "23 degC, 40 degC, 55 degC, 23 degC, 10 degC, 23 degC");
      String within =
          ask.positive(
              "What may be left of the change when it is measured", Dimension.RATIO, "2 ppm");
      file.append("  - at temperatures: [%s]\n".formatted(String.join(", ", degC)));
      file.append("    soak: {within: %s}\n    do:\n".formatted(within));
      indent = "      ";
    }
    file.append((indent + "- in slots: all\n" + indent + "  do:\n"));
    ranges(file, ask, indent + "    ");
  }

  private static void ranges(StringBuilder file, StarterFileInterview ask, String indent) {
    int loads = ask.count("How many loads from a short to the compliance voltage", 2, 1000, 11);
    String sweep = ask.choice("Swept", List.of("up", "down", "both"), "both");
    boolean knee = ask.yes("Look for the knee beyond it", true);
    file.append(indent).append("- in ranges: all\n").append(indent).append("  do:\n");
    file.append(indent).append("    - zero\n");
    file.append(indent)
        .append("    - over loads: {share of compliance: {from: 0 %, to: 100 %, points: ")
        .append(loads)
        .append("}}\n");
    file.append(indent).append("      sweep: ").append(sweep).append('\n');
    if (knee) {
      file.append(indent).append("    - find the knee\n");
    }
  }
}
