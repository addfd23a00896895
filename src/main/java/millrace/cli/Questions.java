package millrace.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import millrace.bench.role.Person;
import millrace.run.Operator;

/** Puts questions to the person at the terminal. */
final class Questions implements Operator {
  private final Console console;
  private final boolean unattended;
  private final BufferedReader in;

  Questions(Console console, boolean unattended) {
    this.console = console;
    this.unattended = unattended;
    this.in = new BufferedReader(new InputStreamReader(console.in(), StandardCharsets.UTF_8));
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
      String answer = in.readLine();
      return answer == null ? "nobody answered: the input ended" : answer.strip();
    } catch (IOException e) {
      return "no answer could be read: " + e.getMessage();
    }
  }

  /** The same person at the bench, for instruments that are set and read by hand. */
  Person person(String name) {
    return question -> new Person.Answer(ask(question), name);
  }
}
