// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.io.IOException;
import java.util.List;
import java.util.stream.Collectors;
import millrace.bench.role.BenchOperator;
import millrace.document.FileMessageText;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.run.control.OperatorPrompt;

/** Asks the person at the terminal. */
public final class Questions implements OperatorPrompt {
  private final Console console;
  private final boolean unattended;
  private Runnable meanwhile = () -> {};

  /**
   * Questions at one console.
   *
   * @param console shows them
   * @param unattended true if nobody answers
   */
  public Questions(Console console, boolean unattended) {
    this.console = console;
    this.unattended = unattended;
  }

  @Override
  public String ask(String question) {
    if (unattended) {
      return "nobody was there to answer";
    }
    try {
      List<String> early = TypedLineReader.at(console).fresh();
      console.error("");
      if (!early.isEmpty()) {
        console.error(leftOut(early));
      }
      console.err().print("? " + Console.visible(question) + " ");
      console.err().flush();
      return TypedLineReader.at(console)
          .line(meanwhile)
          .map(String::strip)
          .orElse("nobody answered: the input ended");
    } catch (IOException e) {
      return "no answer could be read: " + e.getMessage();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new InstrumentException(
          InstrumentTrouble.of(
              Kind.STOPPED, "the terminal", "was stopped while it waited for an answer"),
          e);
    }
  }

  @Override
  public void whileWaiting(Runnable act) {
    meanwhile = act;
  }

  /** Text typed before the question is shown does not answer it. */
  public static String leftOut(List<String> early) {
    return "Left out, since it was typed before this was asked: "
        + early.stream().map(FileMessageText::quoted).collect(Collectors.joining(", "))
        + ".";
  }

  /** The same person as operator of instruments by hand. */
  public BenchOperator person(String name) {
    return question -> new BenchOperator.Answer(ask(question), name);
  }
}
