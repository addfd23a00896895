// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.io.StringWriter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.evidence.PointKind;
import millrace.logbook.RunReader;
import millrace.report.markup.Markup;
import millrace.report.page.ReportPieces;

/**
 * The pieces of the page of a run, each refreshed separately: the main answer first, then the
 * requests, the possible actions, and the rest. Stateless.
 */
public final class RunPieces {
  /** In the order of the page. */
  private static final List<String> NAMES =
      List.of(
          "now",
          "asked",
          "acts",
          "together",
          "programme",
          "soak",
          "limits",
          "sweep",
          "currents",
          "standard",
          "interlocks",
          "instruments",
          "incidents",
          "facts");

  private RunPieces() {}

  /** The pieces in the order of the page; every page has each of them, perhaps empty. */
  public static List<String> names() {
    return NAMES;
  }

  /**
   * The pieces that are quick to draw.
   *
   * @param look the run
   * @param assessment the results so far; empty while they are computed
   * @param asked the requests to it from this page
   * @param token the token that changes must carry
   * @return HTML by the name of the piece; empty text for a piece without content
   */
  public static Map<String, String> quick(
      RunSnapshot look,
      Optional<Assessment> assessment,
      List<AskedPiece.Asked> asked,
      String token) {
    Map<String, String> pieces = new LinkedHashMap<>();
    pieces.put("now", PageFrame.html(new NowPiece(look, assessment)::write));
    pieces.put("asked", PageFrame.html(out -> AskedPiece.write(out, look, asked)));
    pieces.put(
        "acts", token.isEmpty() ? "" : PageFrame.html(out -> ActionsPiece.write(out, look, token)));
    pieces.put("together", PageFrame.html(out -> TogetherPiece.write(out, look)));
    pieces.put("programme", PageFrame.html(out -> ProgrammePiece.write(out, look)));
    pieces.put("soak", PageFrame.html(out -> SoakPiece.write(out, look)));
    pieces.put("interlocks", PageFrame.html(out -> WatchedPiece.interlocks(out, look)));
    pieces.put("instruments", PageFrame.html(out -> WatchedPiece.instruments(out, look)));
    pieces.put("incidents", PageFrame.html(out -> IncidentsPiece.write(out, look)));
    pieces.put("facts", PageFrame.html(out -> FactsPiece.write(out, look)));
    return pieces;
  }

  /**
   * The pieces that need an assessment.
   *
   * @param look the run
   * @param assessment the results so far
   * @param reader the run
   * @return HTML by the name of the piece
   */
  public static Map<String, String> assessed(
      RunSnapshot look, Assessment assessment, RunReader reader) {
    Map<String, String> pieces = new LinkedHashMap<>();
    pieces.put("limits", PageFrame.html(out -> limits(out, look, assessment, reader)));
    pieces.put("sweep", PageFrame.html(out -> sweep(out, look, assessment, reader)));
    pieces.put("currents", PageFrame.html(out -> CurrentsPiece.write(out, look, assessment)));
    pieces.put("standard", PageFrame.html(out -> CurrentsPiece.standard(out, look, reader)));
    return pieces;
  }

  /** What stands in place of results that a fault of ours keeps from being computed. */
  public static Map<String, String> unassessed() {
    return Map.of(
        "limits",
        PageFrame.html(
            out ->
                out.element("h2", "Limits")
                    .element(
                        "p",
                        "The results so far cannot be shown: this is a fault of Millrace itself."
                            + " The run is not touched by it. The terminal of this page says where"
                            + " it is kept for its maker.")));
  }

  private static void limits(
      Markup out, RunSnapshot look, Assessment assessment, RunReader reader) {
    StringWriter table = new StringWriter();
    Markup below = Markup.to(table);
    if (ReportPieces.limits(below, assessment, reader)) {
      below.end();
      out.element("h2", look.writer().goesOn() ? "Limits, as far as they are decided" : "Limits");
      out.include(table.getBuffer());
    }
  }

  private static void sweep(Markup out, RunSnapshot look, Assessment assessment, RunReader reader) {
    Optional<String> range =
        look.points().stream()
            .filter(p -> p.kind() == PointKind.MEASURE || p.kind() == PointKind.KNEE)
            .flatMap(p -> p.conditions().range().stream())
            .reduce((a, b) -> b);
    range.ifPresent(
        r -> {
          out.element(
              "h2", look.writer().goesOn() ? "The range under way" : "The range measured last");
          ReportPieces.lastSweep(out, assessment, reader, r);
        });
  }
}
