// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.fault.StoppedException;
import millrace.run.control.OperatorPrompt;
import millrace.run.control.StopRequest;
import millrace.run.production.OperatorScreen;
import millrace.run.production.OperatorStation;
import millrace.terminal.BlockLetters;
import millrace.terminal.Console;
import millrace.terminal.Questions;
import millrace.terminal.TypedLineReader;
import millrace.terminal.Wrapped;

/**
 * The production screens on a terminal, for keyboard and scanner. Words, a shape and two colours
 * show an outcome, never colour alone; colour-blind people can distinguish the colours (blue and
 * vermillion, which also differ in brightness).
 */
public final class ProductionScreens implements OperatorStation, OperatorPrompt {
  private static final int WIDTH = 78;
  private static final String PRACTICE =
      "PRACTICE - SIMULATED BENCH - nothing is counted, no real unit is tested";

  private static final String BLUE = "\u001b[1;97;48;5;25m";
  private static final String VERMILLION = "\u001b[1;97;48;5;166m";
  private static final String YELLOW = "\u001b[1;30;48;5;227m";
  private static final String PLAIN = "\u001b[0m";

  private final Console console;
  private final boolean practice;
  private final StopRequest stop;
  private final Questions questions;
  private Runnable meanwhile = () -> {};

  /**
   * Creates the screens of a session.
   *
   * @param console the terminal
   * @param practice true if nothing is counted
   * @param stop ends the session early
   */
  public ProductionScreens(Console console, boolean practice, StopRequest stop) {
    this.console = console;
    this.practice = practice;
    this.stop = stop;
    this.questions = new Questions(console, false);
  }

  /** At least one sentence; on a terminal broken between words. */
  private void say(String text) {
    console.print(
        console.terminal().shown()
            ? Wrapped.at(Math.min(WIDTH, console.terminal().columns()), text)
            : text);
  }

  @Override
  public Optional<String> scan(String prompt) {
    try {
      List<String> early = TypedLineReader.at(console).fresh();
      if (!early.isEmpty()) {
        say(Questions.leftOut(early));
      }
      console.out().print(marked(Console.visible(prompt)) + " ");
      console.flush();
      Optional<String> line = typed().map(ProductionScreens::clean);
      if (!console.interactive()) {
        console.print(line.orElse(""));
      }
      return line;
    } catch (IOException e) {
      console.error("no scan could be read: " + e.getMessage());
      return Optional.empty();
    }
  }

  private Optional<String> typed() throws IOException {
    Thread waiting = stop.runsIn(Thread.currentThread());
    try {
      return TypedLineReader.at(console).line(meanwhile);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new StoppedException(
          stop.asked().orElse(StoppedException.Signal.INT),
          "stopped at a question; every board that was tested is in the logbook.");
    } finally {
      stop.backTo(waiting);
    }
  }

  /** Scanners send control characters before and after what they read. */
  private static String clean(String scan) {
    return scan.codePoints()
        .filter(c -> !Character.isISOControl(c))
        .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
        .toString()
        .strip();
  }

  private String marked(String prompt) {
    return (practice ? "[practice] " : "") + prompt;
  }

  /** A question of a run or an instrument; a signal ends it only where it ends the run. */
  @Override
  public String ask(String question) {
    return clean(questions.ask(marked(question)));
  }

  @Override
  public void whileWaiting(Runnable act) {
    meanwhile = act;
    questions.whileWaiting(act);
  }

  @Override
  public void show(OperatorScreen screen) {
    OperatorScreenText text = OperatorScreenText.of(screen);
    frame();
    switch (text.tone()) {
      case GOOD -> large(BLUE, text);
      case BAD -> large(VERMILLION, text);
      case CAUTION -> large(YELLOW, text);
      case PLAIN -> {}
    }
    text.lines().forEach(this::say);
    console.flush();
  }

  private void frame() {
    console.print("");
    console.print("=".repeat(WIDTH));
    if (practice) {
      console.print(PRACTICE);
      console.print("=".repeat(WIDTH));
    }
  }

  private void large(String tone, OperatorScreenText text) {
    List<String> lines = new ArrayList<>(List.of(""));
    lines.addAll(BlockLetters.of(text.shape(), text.word()));
    lines.add("");
    for (String line : lines) {
      // Writes to the terminal itself: Console.print would show the control characters of a tone.
      console
          .out()
          .println(
              console.terminal().toned() ? tone + padded(Console.visible(line)) + PLAIN : line);
    }
  }

  private static String padded(String line) {
    return line + " ".repeat(Math.max(0, WIDTH - line.length()));
  }

  /** The screen shown last. */
  public void end(OperatorScreen.Tally tally) {
    frame();
    say(practice ? "End of practice." : "End of the session.");
    say(OperatorScreenText.tally(tally));
    console.flush();
  }
}
