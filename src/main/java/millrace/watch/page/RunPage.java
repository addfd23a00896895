// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.util.List;
import java.util.Map;
import millrace.logbook.RunStart;

/** The page of a run, finished or not. Stateless. */
public final class RunPage {
  private RunPage() {}

  /**
   * Writes the page.
   *
   * @param look the run
   * @param pieces HTML by the name of the piece
   * @param said the answer to a request, shown at the top; may be empty
   * @return a whole page
   */
  public static String of(RunSnapshot look, Map<String, String> pieces, String said) {
    String id = Long.toString(look.run().id());
    RunStart start = look.run().start();
    String title = "Unit " + start.unit() + ", run " + id;
    List<String> data =
        List.of("data-events", "/run/" + id + "/events", "data-token", "/page-token");
    return PageFrame.page(
        new PageFrame.Head(title, look.simulated(), data),
        out -> {
          out.open("h1").text(title);
          if (look.simulated()) {
            out.text(" ").element("span", "SIMULATED", "class", "stamp");
          }
          out.close();
          out.element("p", said, "id", "said", "role", "status", "tabindex", "-1");
          for (String name : RunPieces.names()) {
            PageFrame.piece(out, name, label(name), pieces.getOrDefault(name, ""));
          }
        });
  }

  private static String label(String name) {
    return switch (name) {
      case "now" -> "Answer";
      case "asked" -> "What was asked";
      case "acts" -> "What you can do";
      case "together" -> "Units in this chamber";
      case "programme" -> "Temperatures";
      case "soak" -> "Soak";
      case "limits" -> "Limits";
      case "sweep" -> "Range";
      case "currents" -> "Currents";
      case "standard" -> "Check standard";
      case "interlocks" -> "Interlocks";
      case "instruments" -> "Instruments";
      case "incidents" -> "Incidents";
      default -> "The run";
    };
  }
}
