package millrace.bench.driver;

import com.google.re2j.Matcher;
import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeSet;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.document.Words;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble.Asked;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.link.Link;
import millrace.link.WireText;
import millrace.quantity.Numbers;

/**
 * An instrument that speaks the text protocol of a driver file. Roles may be used by several
 * threads; the link keeps their conversations apart.
 */
final class TextInstrument implements Instrument {
  private static final int MOST_ERRORS = 30;
  private static final Duration PATIENCE = Duration.ofMillis(500);

  private final DriverFile driver;
  private final Connection connection;
  private final Voice voice;

  /** Complaints that were there before anything was said; guarded by the link's lock. */
  private final List<String> stale = new ArrayList<>();

  TextInstrument(DriverFile driver, Connection connection) {
    this.driver = driver;
    this.connection = connection;
    this.voice = new Voice(driver, connection);
  }

  @Override
  public String name() {
    return connection.name();
  }

  @Override
  public String identity() {
    if (driver.identity().isEmpty()) {
      return "(driver '" + driver.name() + "', the instrument cannot say who it is)";
    }
    return voice.exclusively(
        () -> {
          if (voice.met()) {
            ready();
          }
          return voice.askIdentity();
        });
  }

  @Override
  public <R> Optional<R> in(RoleName role, Class<R> face) {
    RoleCommands commands = driver.roles().get(role);
    if (commands == null) {
      return Optional.empty();
    }
    Object worker = TextRoles.of(role, this, commands);
    return face.isInstance(worker) ? Optional.of(face.cast(worker)) : Optional.empty();
  }

  @Override
  public List<String> errors() {
    return voice.exclusively(
        () -> {
          ready();
          List<String> all = new ArrayList<>(stale);
          stale.clear();
          all.addAll(complaints());
          return all;
        });
  }

  @Override
  public List<String> notes() {
    return voice.exclusively(
        () -> {
          List<String> found =
              stale.stream()
                  .map(c -> "'%s' had a complaint when it was opened: %s".formatted(name(), c))
                  .toList();
          stale.clear();
          return found;
        });
  }

  private List<String> complaints() {
    List<String> found = new ArrayList<>();
    if (driver.errors().isPresent()) {
      DriverFile.Errors queue = driver.errors().get();
      String question = queue.ask().fill(voice.with(Map.of()));
      String reply = voice.ask(question, voice.usual());
      while (!queue.none().matcher(reply).find() && found.size() < MOST_ERRORS) {
        found.add(reply.strip());
        reply = voice.ask(question, voice.usual());
      }
    }
    return found;
  }

  @Override
  public int epoch() {
    return voice.link().epoch();
  }

  @Override
  public void renew() {
    if (epoch() > 0) {
      voice.exclusively(
          () -> {
            ready();
            return Boolean.TRUE;
          });
    }
  }

  @Override
  public void check() {
    voice.exclusively(
        () -> {
          voice.link().checkInStep();
          driver.restart().ifPresent(this::refuseRestart);
          return Boolean.TRUE;
        });
  }

  private void refuseRestart(DriverFile.Restart restart) {
    String question = restart.ask().fill(voice.with(Map.of()));
    String reply = voice.ask(question, voice.usual());
    OptionalDouble events = Numbers.parse(reply.strip());
    if (events.isEmpty()) {
      throw wrong(question, reply, "a whole number");
    }
    if (((long) events.getAsDouble() >> restart.bit() & 1) == 1) {
      voice.link().resynchronize();
      throw new InstrumentException(
          voice
              .trouble(Kind.BROKEN, "the instrument was switched off and on")
              .with("", "Everything has to be set again; check its mains cable.")
              .with(new Asked(question, reply, Duration.ZERO)));
    }
  }

  /** A link that broke unnoticed says so only at its next use: then all is said once more. */
  @Override
  public void makeSafe() {
    try {
      saySafe();
    } catch (InstrumentException first) {
      try {
        saySafe();
      } catch (InstrumentException again) {
        first.addSuppressed(again);
        throw voice.named(first, "");
      }
    }
  }

  private void saySafe() {
    voice
        .link()
        .takingOver(
            PATIENCE,
            () -> {
              driver.safe().forEach(e -> one(e, Map.of()));
              return Boolean.TRUE;
            });
  }

  @Override
  public void close() {
    voice.link().close();
  }

  /** Says what a role wants said, in order; nothing is sent unless all of it can be written. */
  void perform(RoleName role, String action, List<Exchange> exchanges, Map<String, ?> values) {
    try {
      voice
          .link()
          .exclusively(
              () -> {
                ready();
                exchanges.forEach(e -> one(e, values));
                voice.told(role, action);
                return Boolean.TRUE;
              });
    } catch (InstrumentException e) {
      throw voice.named(e, role.text());
    } catch (IllegalArgumentException e) {
      throw new InstrumentException(
          voice
              .trouble(Kind.REFUSED, "cannot " + action + ": " + e.getMessage())
              .named(role.text() + " '" + name() + "'"),
          e);
    }
  }

  private void ready() {
    voice.ready(
        exchanges -> {
          exchanges.forEach(e -> one(e, Map.of()));
          stale.addAll(complaints());
        });
  }

  private void one(Exchange exchange, Map<String, ?> values) {
    Map<String, Object> all = voice.with(values);
    if (exchange instanceof Exchange.Send send) {
      voice.send(send.text().fill(all));
    } else if (exchange instanceof Exchange.Pause pause) {
      voice.pause(pause.span());
    } else if (exchange instanceof Exchange.Ask ask) {
      expected(ask, all);
    } else if (exchange instanceof Exchange.Confirm confirm) {
      confirmed(confirm, all);
    }
  }

  private void expected(Exchange.Ask ask, Map<String, Object> values) {
    String question = ask.text().fill(values);
    Optional<Pattern> expect = ask.expect().map(e -> e.pattern(values));
    Duration began = connection.time().elapsed();
    while (true) {
      String reply = voice.ask(question, ask.within().orElse(voice.usual()), ask.extent());
      if (expect.isEmpty() || expect.get().matcher(reply).find()) {
        return;
      }
      Duration waited = connection.time().elapsed().minus(began);
      if (ask.until().isEmpty() || waited.compareTo(ask.until().get()) >= 0) {
        throw refused(
            question,
            complained(question, reply),
            "a reply that matches '" + expect.get().pattern() + "'");
      }
      voice.pause(ask.every());
    }
  }

  /** A complaint with all that wait behind it, so that none is taken for one of what comes next. */
  private String complained(String question, String reply) {
    boolean queue =
        driver
            .errors()
            .filter(q -> q.ask().fill(voice.with(Map.of())).equals(question))
            .isPresent();
    return queue ? String.join(", ", complaintsFrom(reply)) : reply;
  }

  private List<String> complaintsFrom(String first) {
    List<String> all = new ArrayList<>(List.of(first));
    all.addAll(complaints());
    return all;
  }

  private void confirmed(Exchange.Confirm confirm, Map<String, Object> values) {
    Question.Filled question = confirm.question().filled(values);
    String text = question.text();
    String raw = whole(question);
    Optional<ReplyUnits.Counted> count = question.count(raw);
    Object wanted = values.get(confirm.placeholder());
    boolean there =
        count.isPresent()
            && wanted instanceof Double set
            && Math.abs(count.get().inBaseUnits() - set)
                <= Math.abs(set) * confirm.ratio() + confirm.absolute();
    if (!there) {
      String number = count.isEmpty() ? "a number that is " : "";
      throw refused(text, raw, number + confirm.placeholder() + " " + wanted + " as it was set");
    }
  }

  private InstrumentException refused(String question, String reply, String expected) {
    return new InstrumentException(
        voice
            .trouble(
                Kind.REFUSED,
                "answered %s to %s".formatted(WireText.quoted(reply), WireText.quoted(question)))
            .with(expected, "Check the instrument's display.")
            .with(new Asked(question, reply, Duration.ZERO)));
  }

  private InstrumentException wrong(String question, String reply, String expected) {
    voice.link().resynchronize();
    return new InstrumentException(
        voice
            .trouble(
                Kind.WRONG_REPLY,
                "answered %s to %s".formatted(WireText.quoted(reply), WireText.quoted(question)))
            .with(expected, "Check that the driver is meant for it.")
            .with(new Asked(question, reply, Duration.ZERO)));
  }

  /** Asks for a number in a role. */
  Reply number(RoleName role, Question.Filled question) {
    return spoken(
        role,
        () -> {
          voice.refuseDoubt(role);
          return asked(question);
        });
  }

  /** The same where what was set before the link was opened again may be in doubt. */
  Reply glance(RoleName role, Question.Filled question) {
    return spoken(role, () -> asked(question));
  }

  private <T> T spoken(RoleName role, Link.Talk<T> talk) {
    try {
      return voice
          .link()
          .exclusively(
              () -> {
                ready();
                return talk.run();
              });
    } catch (InstrumentException e) {
      throw voice.named(e, role.text());
    }
  }

  /** Asks a chamber whether its door is open. */
  boolean isOpen(Exchange.Door door) {
    return spoken(
        RoleName.CHAMBER,
        () -> {
          String question = door.ask().fill(voice.with(Map.of()));
          String reply = voice.ask(question, voice.usual());
          boolean open = door.open().matcher(reply).find();
          if (open == door.closed().matcher(reply).find()) {
            throw wrong(
                question,
                reply,
                "a reply that matches either '%s' or '%s'"
                    .formatted(door.open().pattern(), door.closed().pattern()));
          }
          return open;
        });
  }

  private Reply asked(Question.Filled question) {
    String raw = whole(question);
    if (driver.signs().notReadyReply().isEmpty()) {
      return understood(question, raw);
    }
    Duration began = connection.time().elapsed();
    while (matches(driver.signs().notReadyReply(), raw)) {
      Duration waited = connection.time().elapsed().minus(began);
      if (waited.compareTo(driver.signs().readyWithin()) >= 0) {
        return new Reply.NotReady(raw);
      }
      voice.pause(driver.signs().askAgain());
      raw = whole(question);
    }
    return understood(question, raw);
  }

  private String whole(Question.Filled filled) {
    Question question = filled.question();
    Duration within = question.within().orElse(voice.usual());
    return voice.ask(filled.text(), within, question.extent());
  }

  private Reply understood(Question.Filled question, String raw) {
    if (matches(driver.signs().overloadReply(), raw)) {
      return new Reply.Overload(raw);
    }
    if (matches(driver.signs().noNumberReply(), raw)) {
      return new Reply.NotANumber(raw);
    }
    return question.count(raw).<Reply>map(c -> weighed(c, raw)).orElse(new Reply.Malformed(raw));
  }

  private Reply weighed(ReplyUnits.Counted counted, String raw) {
    double size = Math.abs(counted.count());
    if (Math.abs(size / DriverFile.SCPI_NOT_A_NUMBER - 1) < 1e-6) {
      return new Reply.NotANumber(raw);
    }
    if (size >= driver.signs().overload() * (1 - 1e-9)) {
      return new Reply.Overload(raw);
    }
    double value = counted.inBaseUnits();
    return Double.isFinite(value) ? new Reply.Number(value, raw) : new Reply.Malformed(raw);
  }

  private static boolean matches(Optional<Pattern> pattern, String raw) {
    return pattern.isPresent() && pattern.get().matcher(raw).find();
  }

  /** Settings of a role that are read back as text. */
  Map<String, String> settings(RoleName role, RoleCommands commands) {
    return spoken(
        role,
        () -> {
          Map<String, String> found = new LinkedHashMap<>();
          commands.readBack().forEach((name, what) -> found.put(name, setting(what)));
          return found;
        });
  }

  private String setting(Exchange.Setting what) {
    String question = what.ask().fill(voice.with(Map.of()));
    String reply = voice.ask(question, voice.usual());
    if (what.take().isEmpty()) {
      return reply.strip();
    }
    Matcher matcher = what.take().get().matcher(reply);
    if (!matcher.find() || matcher.group(1) == null) {
      throw wrong(question, reply, "a reply that matches '" + what.take().get().pattern() + "'");
    }
    return matcher.group(1).strip();
  }

  /** An error of this instrument in a role. */
  InstrumentException refusal(RoleName role, String found, String expected) {
    return new InstrumentException(
        voice
            .trouble(Kind.REFUSED, found)
            .with(expected, "Check the instrument's display.")
            .named(role.text() + " '" + name() + "'"));
  }

  /** A question with the instrument's settings put in. */
  Question.Filled filled(Question question) {
    return question.filled(voice.with(Map.of()));
  }

  /** What the bench file says that the instrument calls things; empty if it calls them the same. */
  Map<String, String> words() {
    return connection.words();
  }

  /** What the instrument calls a range or position. */
  String word(RoleName role, String name) {
    Map<String, String> words = connection.words();
    String word = words.isEmpty() ? name : words.get(name);
    if (word == null) {
      throw new InstrumentException(
          voice
              .trouble(Kind.REFUSED, "the bench file has no word for '" + name + "'")
              .with(
                  Words.oneOf(new TreeSet<>(words.keySet())),
                  "Add it under 'words:' of '" + name() + "' in the bench file.")
              .named(role.text() + " '" + name() + "'"));
    }
    return word;
  }
}
