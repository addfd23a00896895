// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Adds to each task for a person at the bench where the run stands, which voltage can be at the
 * source's terminals, and that the source must be off whenever the loop is touched.
 *
 * <p>Each task at the loop begins with switching the source off and ends with switching it on.
 * Several conditions between {@link #quiet} and {@link #on} are grouped into one task. One thread
 * at a time, except {@link #safe}, which may come from any.
 */
public final class ManualTaskContext {
  private static final int MOST_TRIES = 5;
  private static final Set<String> DONE = Set.of("", "done", "yes", "y", "ok");

  /** Above this bare metal burns skin within ten minutes of touch (ISO 13732-1, from memory). */
  private static final double HOT_DEGC = 48;

  /** Below this metal freezes to moist skin (common practice, no source). */
  private static final double COLD_DEGC = 0;

  private static final double CAUTION_V = 60;

  private final BenchOperator person;
  private final List<String> tasks = new ArrayList<>();
  private final Map<String, List<String>> safeTasks = new LinkedHashMap<>();
  private final Map<String, Optional<InstrumentException>> answered = new HashMap<>();
  private Source source = Source.ON;
  private String heldBy = "";
  private boolean gathering;
  private OptionalDouble volts = OptionalDouble.empty();
  private OptionalDouble degC = OptionalDouble.empty();
  private String where = "";
  private String reading = "";

  /** The state of the source as known; before the first task it may be on. */
  private enum Source {
    ON,
    OFF,
    HELD
  }

  /** The state of the source at the end of a task. */
  private enum Then {
    SWITCH_ON("Take your hands off, then switch the source on."),
    IS_SWITCHED_ON("Take your hands off: the source comes on when you press Enter."),
    STAYS_OFF("Leave the source off.");

    private final String words;

    Then(String words) {
      this.words = words;
    }
  }

  /**
   * The tasks of one person.
   *
   * @param person whom to ask
   */
  public ManualTaskContext(BenchOperator person) {
    this.person = person;
  }

  /**
   * The person.
   *
   * @return whom to ask
   */
  public BenchOperator person() {
    return person;
  }

  /**
   * Sets the voltage that can be at the terminals of the source while it is on.
   *
   * @param mostV V, 0 or more; empty: not known
   */
  public void volts(OptionalDouble mostV) {
    volts = mostV;
  }

  /**
   * Sets where the run stands.
   *
   * @param now for example {@code Point 3 of 35 (1mA, 4.7 kohm)}; empty if outside of a run
   * @param unitDegC the temperature of the unit, degC; empty: that of the room
   */
  public void at(String now, OptionalDouble unitDegC) {
    where = now;
    degC = unitDegC;
    reading = "";
  }

  /**
   * Sets which reading comes next.
   *
   * @param which for example {@code reading 2 of 10}; empty for one that is not counted
   */
  public void reading(String which) {
    reading = which;
  }

  /** From here on tasks at the loop are grouped; the person switches the source off for them. */
  public void quiet() {
    gathering = true;
  }

  /**
   * The same where an instrument has made the loop quiet.
   *
   * @param how for example {@code range selector 'sel' has switched the source off}
   */
  public void held(String how) {
    gathering = true;
    heldBy = how;
    source = Source.HELD;
  }

  /**
   * Tells whether a person has the source off, or is to switch it off before anything is read.
   *
   * @return false while it is on
   */
  public boolean isQuiet() {
    return gathering || source == Source.OFF;
  }

  /** Has the grouped tasks done, and the source left off, before anything else happens. */
  public void stay() {
    boolean live = gathering && source == Source.ON;
    if (live || !tasks.isEmpty()) {
      ask(List.copyOf(tasks), Then.STAYS_OFF);
    }
  }

  /** Has the source switched off before an instrument changes the loop. */
  public void beforeInstrument() {
    if (source == Source.ON) {
      quiet();
      stay();
    }
  }

  /** Has the grouped tasks done, and the source switched on. */
  public void on() {
    boolean byPerson = source != Source.HELD;
    gathering = false;
    if (!tasks.isEmpty() || source == Source.OFF) {
      ask(List.copyOf(tasks), byPerson ? Then.SWITCH_ON : Then.IS_SWITCHED_ON);
    }
    source = Source.ON;
  }

  /**
   * A task at the loop: done now, or grouped with others.
   *
   * @param task a whole sentence without its full stop
   * @throws InstrumentException if it cannot be done
   */
  public void loop(String task) {
    tasks.add(task);
    if (!gathering) {
      ask(List.copyOf(tasks), source == Source.ON ? Then.SWITCH_ON : Then.STAYS_OFF);
    }
  }

  private void ask(List<String> wanted, Then then) {
    List<String> steps = new ArrayList<>();
    steps.add(first() + standing());
    wanted.forEach(task -> steps.add(task + "."));
    if (source == Source.OFF && wanted.isEmpty() && then == Then.SWITCH_ON) {
      steps.clear();
      steps.add(then.words + standing());
    } else {
      steps.add(then.words);
    }
    tasks.clear();
    String place = where.isEmpty() && surfaces(degC).isEmpty() ? "At the current loop:" : "";
    done(
        place + surfaces(degC) + numbered(steps),
        String.join("; ", wanted.isEmpty() ? steps : wanted),
        "loop");
    source =
        then == Then.STAYS_OFF ? (source == Source.HELD ? Source.HELD : Source.OFF) : Source.ON;
  }

  private String first() {
    return switch (source) {
      case ON -> "Switch the source off.";
      case OFF -> "Make sure that the source is still off.";
      case HELD -> capital(heldBy) + ": make sure of that before you touch anything.";
    };
  }

  private static String capital(String text) {
    return text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
  }

  private String standing() {
    if (volts.isEmpty()) {
      return " While it is on, its open-circuit voltage stands at its terminals.";
    }
    return " While it is on, up to %s DC stand at its terminals%s."
        .formatted(
            QuantityText.print(volts.getAsDouble(), Dimension.VOLTAGE), hurts(volts.getAsDouble()));
  }

  /**
   * The caution where surfaces are hot or cold.
   *
   * @param atDegC their temperature, degC; empty: that of the room
   * @return a sentence; empty if they can be touched
   */
  public static String surfaces(OptionalDouble atDegC) {
    double t = atDegC.orElse(HOT_DEGC);
    if (t > HOT_DEGC || t < COLD_DEGC) {
      return "Unit and chamber are at %s: %s, so touch them with gloves only."
          .formatted(
              QuantityText.print(t, Dimension.TEMPERATURE),
              t > HOT_DEGC ? "hot surfaces burn" : "cold metal freezes to skin");
    }
    return "";
  }

  private static String numbered(List<String> steps) {
    StringBuilder all = new StringBuilder();
    for (int i = 0; i < steps.size(); i++) {
      all.append("\n    ").append(i + 1).append(". ").append(steps.get(i));
    }
    return all.append("\n  ").toString();
  }

  /**
   * A task that does not touch the loop.
   *
   * @param who the instrument in its role
   * @param task a whole sentence without its full stop
   * @throws InstrumentException if it cannot be done
   */
  public void task(String who, String task) {
    done(task + ". ", task, who);
  }

  /**
   * A task at the panel of an instrument in or at the loop, after the grouped tasks.
   *
   * @param who the instrument in its role
   * @param task a whole sentence without its full stop
   * @throws InstrumentException if it cannot be done
   */
  public void panel(String who, String task) {
    if (gathering) {
      stay();
    }
    task(who, task + " (at its panel; touch no terminal)");
  }

  /**
   * The caution that follows a dangerous voltage.
   *
   * @param volts V
   * @return words with a comma before them; empty up to 60 V DC
   */
  public static String hurts(double volts) {
    return volts > CAUTION_V ? ", which can injure or kill" : "";
  }

  private void done(String steps, String brief, String who) {
    String question =
        "%s%s%sPress Enter when it is done, or type 'no' if it cannot be done."
            .formatted(at(), at().isEmpty() || steps.startsWith("\n") ? "" : " ", steps);
    BenchOperator.Answer answer = person.ask(question);
    for (int i = 1; i < MOST_TRIES && puzzling(answer); i++) {
      answer = person.ask("'%s' is no answer to this. %s".formatted(answer.text(), question));
    }
    if (!DONE.contains(word(answer))) {
      throw new InstrumentException(
          InstrumentTrouble.of(
                  Kind.REFUSED,
                  "by hand",
                  "%s was asked: %s; answered '%s'".formatted(by(answer), brief, answer.text()))
              .with("that it is done", "")
              .named(who));
    }
  }

  private String at() {
    return where.isEmpty() ? "" : where + ":";
  }

  /** A bar code, or a number typed for another question, does not confirm a task. */
  private static boolean puzzling(BenchOperator.Answer answer) {
    return !DONE.contains(word(answer)) && !word(answer).startsWith("no");
  }

  private static String word(BenchOperator.Answer answer) {
    return answer.text().strip().toLowerCase(Locale.ROOT);
  }

  /**
   * Who answered.
   *
   * @param answer what was typed
   * @return a name; 'somebody' where none was given
   */
  public static String by(BenchOperator.Answer answer) {
    return answer.by().isBlank() ? "somebody" : answer.by();
  }

  /**
   * Asks what an instrument shows, after the grouped tasks.
   *
   * @param before why the previous answer could not be used, with a trailing blank; empty at first
   * @param question ends with its mark, begins small
   * @param hint how to answer
   * @return what was typed
   */
  public BenchOperator.Answer read(String before, String question, String hint) {
    if (gathering) {
      stay();
    }
    String counted = where + (where.isEmpty() || reading.isEmpty() ? "" : ", ") + reading;
    String all = counted.isEmpty() ? capital(question) : counted + ": " + question;
    return person.ask(before + all + hint);
  }

  /**
   * Notes what a person does to make an instrument safe.
   *
   * @param instrument its name
   * @param task a whole sentence without its full stop
   */
  public void toBeSafe(String instrument, String task) {
    safeTasks.computeIfAbsent(instrument, i -> new ArrayList<>());
    if (!safeTasks.get(instrument).contains(task)) {
      safeTasks.get(instrument).add(task);
    }
  }

  /**
   * Has the bench made safe by hand: one request for all instruments, so that the person is not
   * asked for each one.
   *
   * @param instrument which instrument it is asked for
   * @throws InstrumentException if it cannot be done
   */
  public synchronized void safe(String instrument) {
    if (!safeTasks.containsKey(instrument)) {
      return;
    }
    if (!answered.containsKey(instrument)) {
      Optional<InstrumentException> trouble = askedToBeSafe(instrument);
      safeTasks.keySet().forEach(each -> answered.put(each, trouble));
    }
    answered
        .remove(instrument)
        .ifPresent(
            trouble -> {
              throw trouble;
            });
  }

  private Optional<InstrumentException> askedToBeSafe(String instrument) {
    List<String> steps =
        safeTasks.values().stream()
            .flatMap(List::stream)
            .distinct()
            .sorted(Comparator.comparing(task -> !task.equals(sourceOff())))
            .map(task -> task + ".")
            .toList();
    tasks.clear();
    gathering = false;
    where = "";
    try {
      done(
          ("Make the bench safe now."
                      + (sourceIsHere() ? standing().replace(" it ", " the source ") : "")
                      + " "
                      + surfaces(degC))
                  .strip()
              + numbered(steps),
          "Make the bench safe",
          "'" + instrument + "'");
      source = Source.OFF;
      return Optional.empty();
    } catch (InstrumentException e) {
      return Optional.of(e);
    }
  }

  private boolean sourceIsHere() {
    return safeTasks.values().stream().anyMatch(tasks -> tasks.contains(sourceOff()));
  }

  /**
   * The task that makes the source itself safe.
   *
   * @return a whole sentence without its full stop
   */
  public static String sourceOff() {
    return "Switch the source off, at its own switch or at the mains, and do not touch its"
        + " terminals or the leads before it is off";
  }
}
