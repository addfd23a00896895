package millrace.cli;

import java.io.IOException;
import millrace.bench.role.Person;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.run.Operator;

/** Puts questions to the person at the terminal. */
final class Questions implements Operator {
  private final Console console;
  private final boolean unattended;
  private Runnable meanwhile = () -> {};

  Questions(Console console, boolean unattended) {
    this.console = console;
    this.unattended = unattended;
  }

  @Override
  public String ask(String question) {
    if (unattended) {
      return "nobody was there to answer";
    }
    console.error("");
    console.err().print("? " + Console.visible(question) + " ");
    console.err().flush();
    try {
      return Typed.at(console)
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

  /** The same person at the bench, for instruments that are set and read by hand. */
  Person person(String name) {
    return question -> new Person.Answer(ask(question), name);
  }
}
