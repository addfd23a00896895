// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.BiFunction;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Chamber;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.InstrumentDriver.Surroundings;
import millrace.bench.role.Load;
import millrace.bench.role.ManualTaskContext;
import millrace.bench.role.Meter;
import millrace.bench.role.RoleName;
import millrace.bench.role.SafeStateAssurance;
import millrace.bench.role.SetPointGate;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.link.Link;
import millrace.link.LinkAddress;
import millrace.link.LinkOpener;
import millrace.link.LinkRecorder;
import millrace.link.WireText;
import millrace.time.BackgroundThreads;
import millrace.time.SystemClock;
import millrace.time.TimeSource;
import org.jspecify.annotations.Nullable;

/**
 * The open bench: instruments by name and by role.
 *
 * <p>One thread at a time, except {@link #makeSafe}, which may come from any.
 */
public final class Bench implements AutoCloseable {
  /** How long one instrument may take to become safe, real time. */
  public static final Duration SAFE_WITHIN = Duration.ofSeconds(10);

  /** The same where a person makes it safe, who may have to walk there. */
  public static final Duration SAFE_BY_HAND_WITHIN = Duration.ofMinutes(2);

  /** How long the next instrument waits for the one before, real time. */
  public static final Duration HEAD_START = Duration.ofSeconds(2);

  /** The share of its time that an instrument keeps for finding out why it is not safe. */
  private static final int TO_TELL = 20;

  private static final int MOST_IDENTIFYING = 4;

  private final BenchFile file;
  private final Map<String, Instrument> instruments;
  private final List<Link> links;
  private final ManualTaskContext manualTaskContext;
  private final Drivers drivers;

  private Bench(
      BenchFile file,
      Map<String, Instrument> instruments,
      Collection<Link> links,
      ManualTaskContext manualTaskContext,
      Drivers drivers) {
    this.manualTaskContext = manualTaskContext;
    this.drivers = drivers;
    this.file = file;
    this.instruments = instruments;
    this.links = List.copyOf(links);
  }

  /** Opens a bench without a person who can be asked. */
  public static Bench open(BenchFile file, Drivers drivers, TimeSource time) {
    return open(
        file,
        drivers,
        new Surroundings(time, BenchOperator.NOBODY),
        LinkOpener.recording(a -> LinkRecorder.NONE));
  }

  /**
   * Opens a bench. Nothing is sent yet; links open at their first question.
   *
   * @param file the bench file
   * @param drivers the drivers there are
   * @param surroundings the clock that drivers wait on, and whom they may ask
   * @param opener gives the links, one per address
   * @return the open bench
   * @throws millrace.fault.BadInputException if a driver does not exist, cannot do a role or is not
   *     set as it must be
   */
  public static Bench open(
      BenchFile file, Drivers drivers, Surroundings surroundings, LinkOpener opener) {
    InputFaultList faults = new InputFaultList();
    file.instruments().values().forEach(e -> drivers.check(e.driver(), e.place(), faults));
    faults.throwIfAny();
    file.instruments()
        .values()
        .forEach(e -> drivers.checkSettings(e.driver(), e.settings(), e.place(), faults));
    faults.throwIfAny();
    Map<LinkAddress, Link> links = new LinkedHashMap<>();
    Map<String, Instrument> instruments = new LinkedHashMap<>();
    for (BenchFile.Entry entry : file.instruments().values()) {
      Link link = links.computeIfAbsent(entry.address(), opener::open);
      Connection connection =
          new Connection(
              entry.name(),
              link,
              entry.settings(),
              entry.words(),
              surroundings,
              new InstrumentLimitGate(entry));
      try {
        Instrument instrument =
            new GuardedInstrument(drivers.open(entry.driver(), connection), entry);
        checkRoles(entry, instrument, faults);
        instruments.put(entry.name(), instrument);
      } catch (IllegalArgumentException e) {
        faults.add(entry.place(), "'%s': %s".formatted(entry.name(), e.getMessage()), "");
      }
    }
    faults.throwIfAny();
    Bench bench = new Bench(file, instruments, links.values(), surroundings.workplace(), drivers);
    bench.checkChanges(faults);
    bench.checkDoor(faults);
    bench.checkAlarm(faults);
    faults.throwIfAny();
    return bench;
  }

  /**
   * A live loop is never opened: the bench must be able to do what its file demands before a
   * change.
   */
  private void checkChanges(InputFaultList faults) {
    Optional<BenchFile.Entry> entry = file.in(RoleName.LOAD);
    boolean shorts = in(RoleName.LOAD, Load.class).filter(Load::canShort).isPresent();
    if (file.changes() == BenchFile.BeforeChange.SHORT_OUTPUT && entry.isPresent() && !shorts) {
      faults.add(
          entry.get().place(),
          "the output is to be shorted before a change, but driver '%s' cannot"
              .formatted(entry.get().driver()),
          "a load that can, or 'before a change: source off'");
    }
  }

  private void checkDoor(InputFaultList faults) {
    Optional<Chamber> chamber = in(RoleName.CHAMBER, Chamber.class);
    if (file.interlocks().dewMarginK().isPresent() && chamber.flatMap(Chamber::door).isEmpty()) {
      faults.add(
          file.in(RoleName.CHAMBER).orElseThrow().place(),
          "there is an interlock on the dew point, but driver '%s' cannot tell whether the door is open"
              .formatted(file.in(RoleName.CHAMBER).orElseThrow().driver()),
          "a driver with 'door:' in its chamber role, or no 'dew point margin'");
    }
  }

  private void checkAlarm(InputFaultList faults) {
    Optional<Chamber> chamber = in(RoleName.CHAMBER, Chamber.class);
    if (file.interlocks().chamberAlarm() && chamber.flatMap(Chamber::alarm).isEmpty()) {
      faults.add(
          file.in(RoleName.CHAMBER).orElseThrow().place(),
          "there is an interlock on the chamber's alarm, but driver '%s' cannot ask for it"
              .formatted(file.in(RoleName.CHAMBER).orElseThrow().driver()),
          "a driver with 'alarm:' in its chamber role, or no 'chamber alarm'");
    }
  }

  /**
   * Sets what is called repeatedly while a reply is awaited or a link reopened, in the waiting
   * thread, which holds that link: it must not ask over the same link.
   *
   * @param act short; what it throws ends the waiting
   */
  public void whileWaiting(Runnable act) {
    links.forEach(link -> link.whileWaiting(act));
  }

  /**
   * The same bench with each instrument replaced; this one must not be used any more.
   *
   * @param by what stands for each
   */
  public Bench replacing(BiFunction<BenchFile.Entry, Instrument, Instrument> by) {
    Map<String, Instrument> others = new LinkedHashMap<>(instruments);
    others.replaceAll((name, i) -> by.apply(file.instruments().get(name), i));
    return new Bench(file, others, links, manualTaskContext, drivers);
  }

  private static void checkRoles(
      BenchFile.Entry entry, Instrument instrument, InputFaultList faults) {
    for (RoleName role : entry.roles().keySet()) {
      if (instrument.in(role, Object.class).isEmpty()) {
        faults.add(
            entry.place(),
            "'%s' is to be %s, but driver '%s' cannot"
                .formatted(entry.name(), role.text(), entry.driver()),
            "a driver with that role");
      }
    }
  }

  /**
   * The bench file.
   *
   * @return the bench file
   */
  public BenchFile file() {
    return file;
  }

  /**
   * Every instrument.
   *
   * @return by name, in the order of the file
   */
  public Map<String, Instrument> instruments() {
    return Collections.unmodifiableMap(instruments);
  }

  /**
   * Asks every instrument who it is, and checks that it is the one that the bench file means.
   *
   * @return the identities by name, in the order of the file
   * @throws InstrumentException if one does not answer or is another one
   */
  public Map<String, String> identify() {
    Map<String, String> found = new LinkedHashMap<>();
    instruments.forEach((name, instrument) -> found.put(name, identity(name, instrument)));
    return found;
  }

  /**
   * Asks one instrument who it is, and checks that it is the one that the bench file means.
   *
   * @param name its name
   * @return its identity
   * @throws InstrumentException if it does not answer or is another one
   * @throws IllegalArgumentException if no instrument has that name
   */
  public String identify(String name) {
    Instrument instrument = instruments.get(name);
    if (instrument == null) {
      throw new IllegalArgumentException("no instrument '" + name + "'");
    }
    return identity(name, instrument);
  }

  private String identity(String name, Instrument instrument) {
    String identity = sure(instrument);
    BenchFile.Entry entry = file.instruments().get(name);
    if (entry.identity().filter(p -> !p.matcher(identity).find()).isPresent()) {
      throw new InstrumentException(
          InstrumentTrouble.of(
                  InstrumentTrouble.Kind.WRONG_IDENTITY,
                  entry.address().toString(),
                  "the identity is " + WireText.quoted(identity))
              .with(
                  "one that matches '" + entry.identity().get().pattern() + "'", meantFor(identity))
              .named("'" + name + "'"));
    }
    return identity;
  }

  /** The advice if another instrument answers: it names the one that it seems to be. */
  private String meantFor(String identity) {
    return file.instruments().values().stream()
        .filter(e -> e.identity().filter(p -> p.matcher(identity).find()).isPresent())
        .findFirst()
        .map(
            e ->
                ("That is how '%s' is to answer: swapped cables are the commonest slip. Exchange"
                        + " them back, or the addresses in the bench file.")
                    .formatted(e.name()))
        .orElse(
            "Swapped cables are the commonest slip: see which instrument has this address, or write"
                + " its identity into the bench file if it was exchanged on purpose.");
  }

  /** A garbled reply must not pass for an identity: the same reply must come twice in a row. */
  private static String sure(Instrument instrument) {
    Optional<String> last = Optional.empty();
    for (int tries = 1; ; tries++) {
      try {
        String now = instrument.identity();
        if (last.filter(now::equals).isPresent() || tries >= MOST_IDENTIFYING) {
          return now;
        }
        last = Optional.of(now);
      } catch (InstrumentException e) {
        last = Optional.empty();
        boolean another =
            e.trouble().filter(t -> t.kind() == InstrumentTrouble.Kind.WRONG_IDENTITY).isPresent();
        if (another || tries >= MOST_IDENTIFYING - 1) {
          throw e;
        }
      }
    }
  }

  /**
   * An instrument in a role.
   *
   * @param role the role
   * @param face its interface
   * @param <R> the interface
   * @return the instrument in that role; empty if the bench has none
   */
  public <R> Optional<R> in(RoleName role, Class<R> face) {
    if (role == RoleName.CURRENT_METER && file.shuntInUse().isPresent()) {
      return in(RoleName.SHUNT_VOLTMETER, Meter.class)
          .map(m -> new ShuntMeter(m, file.shuntInUse().get()))
          .filter(face::isInstance)
          .map(face::cast);
    }
    return file.in(role).flatMap(e -> instruments.get(e.name()).in(role, face));
  }

  /**
   * Refuses a bench with a safe state that its file does not allow, before a night depends on it.
   *
   * @throws millrace.fault.BadInputException with the place of each instrument
   */
  public void refuseSafeBeyond() {
    InputFaultList faults = new InputFaultList();
    for (BenchFile.Entry entry : file.instruments().values()) {
      try {
        SetPointGate gate =
            new InstrumentLimitGate(
                entry, "the safe state sets '" + entry.name().replace("%", "%%") + "' to %s");
        drivers.refuseSafeBeyond(entry.driver(), entry.settings(), gate);
      } catch (InstrumentException e) {
        faults.add(
            new InputFault(
                entry.place(),
                e.trouble().orElseThrow().found(),
                e.trouble().orElseThrow().expected(),
                "Change what is allowed, or the safe state by a setting or in the driver."));
      }
    }
    faults.throwIfAny();
  }

  /**
   * The context of tasks for a person at the bench.
   *
   * @return the context that all instruments by hand share
   */
  public ManualTaskContext workplace() {
    return manualTaskContext;
  }

  /**
   * The limits of the set points of an instrument, for a caller that speaks to it directly.
   *
   * @param name an instrument of the bench file
   * @return lets through what its entry allows
   */
  public SetPointGate gate(String name) {
    return new InstrumentLimitGate(file.instruments().get(name));
  }

  /**
   * The name of the instrument in a role.
   *
   * @param role the role
   * @return its name; empty if the bench has none
   */
  public Optional<String> nameIn(RoleName role) {
    return file.in(role).map(BenchFile.Entry::name);
  }

  /**
   * Tells whether a person stands in for an instrument in a role.
   *
   * @param role the role
   * @return false also if the bench has none
   */
  public boolean isByHand(RoleName role) {
    return nameIn(role).filter(name -> instruments.get(name).isByHand()).isPresent();
  }

  /**
   * The outcome of making one instrument safe.
   *
   * @param instrument its name
   * @param trouble why it could not be confirmed; empty if it is safe
   * @param how how it is known that it is safe; empty if it is not
   */
  public record Safety(
      String instrument, Optional<String> trouble, Optional<SafeStateAssurance> how) {
    private static Safety confirmed(String instrument, SafeStateAssurance how) {
      return new Safety(instrument, Optional.empty(), Optional.of(how));
    }

    private static Safety doubtful(String instrument, @Nullable String trouble) {
      return new Safety(instrument, Optional.of(String.valueOf(trouble)), Optional.empty());
    }
  }

  /**
   * Makes every instrument safe, in the order of the bench file; a failure does not stop the
   * others. The next one begins when the one before is done, at the latest after {@link
   * #HEAD_START}; each has {@link #SAFE_WITHIN}. A conversation of another thread is interrupted.
   *
   * @return the outcomes, one per instrument, in that order
   */
  public List<Safety> makeSafe() {
    return makeSafe(SAFE_WITHIN);
  }

  List<Safety> makeSafe(Duration within) {
    Set<String> order = new LinkedHashSet<>(file.safeOrder());
    order.addAll(instruments.keySet());
    ExecutorService workers =
        Executors.newCachedThreadPool(BackgroundThreads.named("millrace-safe"));
    try {
      List<Attempt> attempts = new ArrayList<>();
      for (String name : order) {
        attempts.add(begin(workers, name, within));
      }
      return attempts.stream().map(Attempt::outcome).toList();
    } finally {
      workers.shutdownNow();
    }
  }

  private Attempt begin(ExecutorService workers, String name, Duration within) {
    Duration atMost = instruments.get(name).isByHand() ? SAFE_BY_HAND_WITHIN : within;
    Duration own = atMost.minus(atMost.dividedBy(TO_TELL));
    Future<SafeStateAssurance> task = workers.submit(() -> safely(name, own));
    Attempt attempt = new Attempt(name, task, atMost, SystemClock.deadline(atMost));
    attempt.waitAtMost(HEAD_START);
    return attempt;
  }

  /**
   * An instrument that confirms its safe state may still be another one than the bench file means.
   */
  private SafeStateAssurance safely(String name, Duration within) {
    Instrument instrument = instruments.get(name);
    int before = instrument.epoch();
    SafeStateAssurance how = instrument.makeSafe(within);
    boolean asks = how != SafeStateAssurance.NOTHING_TO_DO && instrument.epoch() != before;
    if (asks && file.instruments().get(name).identity().isPresent()) {
      identity(name, instrument);
    }
    return how;
  }

  /** One instrument that is being made safe. */
  private record Attempt(
      String name,
      Future<SafeStateAssurance> task,
      Duration within,
      SystemClock.Deadline deadline) {
    Safety outcome() {
      return waitAtMost(deadline.left());
    }

    /** Its outcome when it is done or the time is over. */
    private Safety waitAtMost(Duration span) {
      try {
        return Safety.confirmed(name, task.get(span.toMillis(), TimeUnit.MILLISECONDS));
      } catch (TimeoutException e) {
        return Safety.doubtful(name, "did not become safe within " + WireText.span(within));
      } catch (ExecutionException e) {
        return Safety.doubtful(name, e.getCause().getMessage());
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        return Safety.doubtful(name, "was interrupted while it was made safe");
      }
    }
  }

  @Override
  public void close() {
    instruments.values().forEach(Instrument::close);
  }
}
