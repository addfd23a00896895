// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.util.List;
import java.util.function.Consumer;
import millrace.report.markup.Markup;

/**
 * The requests that a person may make. Each form is folded and states its effect before the button;
 * it also works without script.
 */
final class ActionsPiece {
  private final Markup out;
  private final RunSnapshot look;
  private final String token;

  private ActionsPiece(Markup out, RunSnapshot look, String token) {
    this.out = out;
    this.look = look;
    this.token = token;
  }

  static void write(Markup out, RunSnapshot look, String token) {
    ActionsPiece piece = new ActionsPiece(out, look, token);
    out.element("h2", "What you can do");
    out.open("div", "class", "acts");
    if (look.writer().goesOn()) {
      piece.ofTheRun();
    }
    piece.note();
    out.close();
  }

  private void ofTheRun() {
    List<String> beside = beside();
    String run =
        beside.isEmpty()
            ? "run " + look.run().id() + " (unit " + look.run().start().unit() + ")"
            : "all %s units".formatted(beside.size() + 1);
    String all =
        beside.isEmpty()
            ? ""
            : " This holds for the units beside it in the chamber, too: %s."
                .formatted(String.join(", ", beside));
    act(
        "stop",
        "Stop and make safe",
        "The run ends at once, whatever it waits for. The bench is made safe first. What was shown"
            + " stays in the logbook, and the run can be resumed. This is no emergency stop."
            + all,
        "Yes, stop " + run,
        o -> {});
    if (AskedPiece.paused(look)) {
      act("continue", "Go on", "The run takes points again." + all, "Yes, go on", o -> {});
    } else {
      act(
          "pause",
          "Pause after this point",
          "The run finishes the point under way and takes no further one. Source and chamber stay"
              + " as they are, and interlocks are watched."
              + all,
          "Yes, pause " + run,
          o -> {});
    }
    if (look.plan().filter(p -> !p.plan().stays().isEmpty()).isPresent()) {
      act(
          "skip",
          "Skip this temperature",
          "The run leaves out what is left at the temperature under way and goes to the next."
              + all,
          "Yes, skip this temperature",
          o -> {});
      act(
          "add",
          "Add a temperature",
          "After the temperature under way the same is done at one more. The sequence's and the"
              + " bench's bounds hold."
              + all,
          "Yes, add it to " + run,
          o -> field(o, "temperature", "Temperature, such as 45 degC", "45 degC"));
    }
  }

  /** The units whose runs go on in the same chamber by the same instruments. */
  private List<String> beside() {
    return look.together().stream()
        .filter(n -> n.goesOn() && n.run().id() != look.run().id())
        .map(n -> n.run().start().unit())
        .toList();
  }

  private void note() {
    act(
        "note",
        "Write a note",
        "It is kept with the run for ever; notes are never changed or deleted.",
        "Keep the note",
        o -> {
          o.open("label").text("Note");
          o.element(
              "textarea",
              "",
              "name",
              "text",
              "rows",
              "3",
              "maxlength",
              "2000",
              "required",
              "required");
          o.close();
          field(o, "author", "Who says it", "");
        });
  }

  private static void field(Markup out, String name, String label, String example) {
    out.open("label").text(label);
    out.lone(
        "input",
        "name",
        name,
        "type",
        "text",
        "maxlength",
        "80",
        "required",
        "required",
        "placeholder",
        example,
        "autocomplete",
        "off");
    out.close();
  }

  private void act(String what, String name, String words, String button, Consumer<Markup> fields) {
    new ActionForm(what, name, words, button)
        .write(out, "/run/" + look.run().id() + "/ask", token, fields);
  }
}
