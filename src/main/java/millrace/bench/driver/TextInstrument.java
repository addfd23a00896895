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
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.fault.InstrumentException;
import millrace.link.Link;
import millrace.link.WireText;
import millrace.quantity.Numbers;

/**
 * An instrument that speaks the text protocol of a driver file. One thread at a time per role; the
 * link keeps conversations apart.
 */
final class TextInstrument implements Instrument {
  private static final int MOST_ERRORS = 30;

  private final DriverFile driver;
  private final Connection connection;
  private boolean started;

  TextInstrument(DriverFile driver, Connection connection) {
    this.driver = driver;
    this.connection = connection;
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
    DriverFile.Identity identity = driver.identity().get();
    String reply = link().ask(identity.ask(), driver.replyWithin());
    if (!identity.matches().matcher(reply).find()) {
      link().resynchronize();
      throw new InstrumentException(
          "%s: answered %s to %s; expected an identity that matches '%s'. Check the address and that"
                  .formatted(
                      where(),
                      WireText.quoted(reply),
                      WireText.quoted(identity.ask()),
                      identity.matches().pattern())
              + " driver '"
              + driver.name()
              + "' is meant for it.");
    }
    return reply.strip();
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
    List<String> found = new ArrayList<>();
    driver
        .errors()
        .ifPresent(
            queue -> {
              String reply = link().ask(queue.ask(), driver.replyWithin());
              while (!queue.none().matcher(reply).find() && found.size() < MOST_ERRORS) {
                found.add(reply.strip());
                reply = link().ask(queue.ask(), driver.replyWithin());
              }
            });
    return found;
  }

  @Override
  public void makeSafe() {
    perform(driver.safe(), Map.of());
  }

  @Override
  public void close() {
    link().close();
  }

  private Link link() {
    return connection.link();
  }

  private String where() {
    return "'%s' (%s)".formatted(name(), link().address());
  }

  /** Says what a role wants said, in order. */
  void perform(List<Exchange> exchanges, Map<String, Object> values) {
    link()
        .exclusively(
            () -> {
              start();
              exchanges.forEach(e -> one(e, values));
              return Boolean.TRUE;
            });
  }

  private void start() {
    if (!started) {
      started = true;
      driver.start().forEach(e -> one(e, Map.of()));
    }
  }

  private void one(Exchange exchange, Map<String, Object> values) {
    if (exchange instanceof Exchange.Send send) {
      link().send(send.text().fill(values));
    } else if (exchange instanceof Exchange.Pause pause) {
      pause(pause.span());
    } else if (exchange instanceof Exchange.Ask ask) {
      confirmed(ask, ask.text().fill(values));
    }
  }

  private void confirmed(Exchange.Ask ask, String question) {
    Duration began = connection.time().elapsed();
    while (true) {
      String reply = link().ask(question, driver.replyWithin());
      if (ask.expect().isEmpty() || ask.expect().get().matcher(reply).find()) {
        return;
      }
      Duration waited = connection.time().elapsed().minus(began);
      if (ask.until().isEmpty() || waited.compareTo(ask.until().get()) >= 0) {
        throw new InstrumentException(
            "%s: answered %s to %s; expected a reply that matches '%s'. Check the instrument's display."
                .formatted(
                    where(),
                    WireText.quoted(reply),
                    WireText.quoted(question),
                    ask.expect().get().pattern()));
      }
      pause(ask.every());
    }
  }

  private void pause(Duration span) {
    try {
      connection.time().sleep(span);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new InstrumentException(where() + ": was stopped while waiting.", e);
    }
  }

  /** Asks for a number. */
  Reply number(Question question) {
    return link()
        .exclusively(
            () -> {
              start();
              String text = question.text().fill(Map.of());
              String raw = link().ask(text, question.within().orElse(driver.replyWithin()));
              return understood(question, raw);
            });
  }

  private Reply understood(Question question, String raw) {
    if (matches(driver.overloadReply(), raw)) {
      return new Reply.Overload(raw);
    }
    if (matches(driver.notANumberReply(), raw)) {
      return new Reply.NotANumber(raw);
    }
    Matcher matcher = question.number().orElse(Question.PLAIN_NUMBER).matcher(raw);
    OptionalDouble count =
        matcher.find() ? Numbers.parse(matcher.group(1).strip()) : OptionalDouble.empty();
    if (count.isEmpty() || !restIsHarmless(question, matcher, raw)) {
      return new Reply.Malformed(raw);
    }
    return weighed(question, count.getAsDouble(), raw);
  }

  /** The plain pattern leaves the rest of the reply open: only a unit may follow. */
  private static boolean restIsHarmless(Question question, Matcher matcher, String raw) {
    if (question.number().isPresent()) {
      return true;
    }
    String rest = raw.substring(matcher.end()).strip();
    return rest.isEmpty() || UNIT.matcher(rest).matches();
  }

  private static final Pattern UNIT = Pattern.compile("[A-Za-z%\\x{b5}\\x{b0}]{1,8}");

  private Reply weighed(Question question, double count, String raw) {
    if (Math.abs(count) == DriverFile.SCPI_NOT_A_NUMBER) {
      return new Reply.NotANumber(raw);
    }
    if (Math.abs(count) >= driver.overload()) {
      return new Reply.Overload(raw);
    }
    return new Reply.Number(count * question.unitSize() + question.unitOffset(), raw);
  }

  private static boolean matches(Optional<Pattern> pattern, String raw) {
    return pattern.isPresent() && pattern.get().matcher(raw).find();
  }

  /** What the numbers of a role say, as people write them. */
  Map<String, String> readBack(RoleCommands commands) {
    Map<String, String> settings = new LinkedHashMap<>();
    commands
        .questions()
        .forEach(
            (name, question) -> {
              if (name.startsWith("read ") && number(question) instanceof Reply.Number n) {
                settings.put(name.substring("read ".length()), Numbers.print(n.value()));
              }
            });
    return settings;
  }
}
