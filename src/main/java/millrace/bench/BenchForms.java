// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import com.google.re2j.Pattern;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.BenchFile.BeforeChange;
import millrace.bench.BenchFile.Certificate;
import millrace.bench.BenchFile.Entry;
import millrace.bench.BenchFile.Standard;
import millrace.bench.BenchFile.Wiring;
import millrace.bench.role.RoleName;
import millrace.document.FileMessageText;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.document.yaml.YamlFile;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.link.LinkAddress;
import millrace.quantity.Dimension;

/** Reads bench files. */
public final class BenchForms {
  private BenchForms() {}

  /** How a bench file is written. */
  public static final YamlForm<BenchFile> BENCH = bench();

  /**
   * Reads a file from disk.
   *
   * @param path the file
   * @return the bench
   * @throws millrace.fault.BadInputException with every fault found
   */
  public static BenchFile read(Path path) {
    return read(path.toString(), YamlFile.bytes(path));
  }

  /**
   * Reads bytes.
   *
   * @param file the name for messages
   * @param bytes what the file holds
   * @return the bench
   * @throws millrace.fault.BadInputException with every fault found
   */
  public static BenchFile read(String file, byte[] bytes) {
    BenchFile bench = BENCH.readFile(file, bytes);
    InputFaultList faults = new InputFaultList();
    safeOrder(bench, file, faults);
    doubledRoles(bench, faults);
    BenchFileConsistency.check(bench, file, faults);
    faults.throwIfAny();
    return bench;
  }

  private static void safeOrder(BenchFile bench, String file, InputFaultList faults) {
    for (String name : bench.safeOrder()) {
      if (!bench.instruments().containsKey(name)) {
        faults.add(
            new InputFault(
                FilePlace.of(file),
                "the safe order names " + FileMessageText.quoted(name) + ", which is no instrument",
                FileMessageText.oneOf(bench.instruments().keySet()),
                FileMessageText.didYouMean(name, bench.instruments().keySet())));
      }
    }
  }

  private static void doubledRoles(BenchFile bench, InputFaultList faults) {
    Map<RoleName, Entry> first = new EnumMap<>(RoleName.class);
    for (Entry entry : bench.instruments().values()) {
      for (RoleName role : entry.roles().keySet()) {
        Entry other = first.putIfAbsent(role, entry);
        if (other != null) {
          faults.add(
              new InputFault(
                  entry.place(),
                  "'%s' is a second %s".formatted(entry.name(), role.text()),
                  "one, and '%s' has the role already".formatted(other.name()),
                  "Take the role from one of them."));
        }
      }
    }
  }

  private static YamlForm<BenchFile> bench() {
    YamlMapForm.Builder map = YamlMapForm.of("a bench file");
    Key<String> name = map.required("bench", YamlForms.text("a name"), "what the bench is called");
    Key<Boolean> simulated =
        map.optional(
            "simulated", YamlForms.yesNo(), false, "yes if no real instrument is behind it");
    Key<Double> line =
        map.optional(
            "line frequency", YamlForms.quantity(Dimension.FREQUENCY), 50.0, "default 50 Hz");
    Key<Map<String, Entry>> instruments =
        map.required(
            "instruments",
            YamlForms.named("names of instruments", instrument()),
            "what is connected");
    Key<Wiring> wiring =
        map.optional("wiring", WiringForms.WIRING, Wiring.NONE, "how they are connected");
    Key<BeforeChange> changes =
        map.optional(
            "before a change",
            YamlForms.choice(BeforeChange.values(), BeforeChange::text),
            BeforeChange.SOURCE_OFF,
            "short output, or source off (default): a live current loop is never opened");
    Key<List<String>> safe =
        map.optional(
            "safe order",
            YamlForms.list(YamlForms.text("an instrument's name"), 0),
            List.of(),
            "order in which instruments are made safe; default that of the file");
    Key<Interlocks> interlocks =
        map.optional(
            "interlocks", InterlockForms.INTERLOCKS, Interlocks.NONE, "what must never happen");
    Key<Map<String, String>> slots =
        map.optional(
            "slots",
            YamlForms.named("names of slots", YamlForms.text("a switch position")),
            Map.of(),
            "where units sit: slot to switch position");
    Key<Map<String, Standard>> standards =
        map.optional(
            "check standards",
            YamlForms.named("names of standards", WiringForms.STANDARD),
            Map.of(),
            "stable sources that the switch can connect");
    return map.reads(
        v ->
            new BenchFile(
                v.get(name),
                v.get(simulated),
                v.get(line),
                named(v.get(instruments)),
                v.get(wiring),
                v.get(changes),
                v.get(safe),
                v.get(interlocks),
                v.get(slots),
                v.get(standards)));
  }

  private static Map<String, Entry> named(Map<String, Entry> entries) {
    Map<String, Entry> named = new LinkedHashMap<>();
    entries.forEach(
        (name, e) ->
            named.put(
                name,
                new Entry(
                    e.place(),
                    name,
                    e.driver(),
                    e.address(),
                    e.roles(),
                    e.settings(),
                    e.words(),
                    e.certificate(),
                    e.identity(),
                    e.warmUp())));
    return named;
  }

  private static YamlForm<Entry> instrument() {
    YamlMapForm.Builder map = YamlMapForm.of("an instrument");
    Key<String> driver =
        map.required("driver", YamlForms.text("a driver's name"), "how to speak to it");
    Key<LinkAddress> address =
        map.required(
            "address",
            YamlForms.map(YamlForms.text("an address, " + LinkAddress.GRAMMAR), LinkAddress::parse),
            "where it is");
    List<Key<Optional<RoleFacts>>> roles = new ArrayList<>();
    YamlMapForm.Builder roleMap = YamlMapForm.of("roles");
    for (RoleName role : RoleName.values()) {
      roles.add(roleMap.optional(role.text(), RoleFactsForms.facts(role), "what is known of it"));
    }
    Key<Map<RoleName, RoleFacts>> roleKey =
        map.required("roles", roleMap.reads(v -> roles(roles, v)), "what it does in a run");
    Key<Map<String, String>> settings =
        map.optional(
            "settings",
            YamlForms.named("names of settings", YamlForms.text("a word")),
            Map.of(),
            "words for the driver");
    Key<Map<String, String>> words =
        map.optional(
            "words",
            YamlForms.named("names of ranges or positions", YamlForms.text("a word")),
            Map.of(),
            "what the instrument calls ranges and positions; default the same");
    Key<Optional<Certificate>> certificate =
        map.optional("certificate", certificate(), "its calibration");
    Key<Optional<Pattern>> identity =
        map.optional("identity", YamlForms.pattern(), "what its identity must match");
    Key<Optional<Duration>> warmUp =
        map.optional(
            "warm-up",
            YamlForms.span(),
            "from power-on until its accuracy holds, as its manual says");
    return map.reads(
        v ->
            new Entry(
                v.place(),
                "(instrument)",
                v.get(driver),
                v.get(address),
                v.get(roleKey),
                v.get(settings),
                v.get(words),
                v.get(certificate),
                v.get(identity),
                v.get(warmUp)));
  }

  private static Map<RoleName, RoleFacts> roles(
      List<Key<Optional<RoleFacts>>> keys, YamlMapForm.Values values) {
    Map<RoleName, RoleFacts> found = new EnumMap<>(RoleName.class);
    int i = 0;
    for (RoleName role : RoleName.values()) {
      values.get(keys.get(i++)).ifPresent(facts -> found.put(role, facts));
    }
    if (found.isEmpty()) {
      throw new IllegalArgumentException(
          "an instrument without a role; expected one, such as 'voltmeter: {}'");
    }
    return found;
  }

  private static YamlForm<Certificate> certificate() {
    YamlMapForm.Builder map = YamlMapForm.of("a certificate");
    Key<String> laboratory =
        map.required("laboratory", YamlForms.text("a laboratory"), "who issued it");
    Key<String> number = map.required("number", YamlForms.text("a number"), "its number");
    Key<Optional<LocalDate>> calibrated = map.optional("calibrated", date(), "when");
    Key<Optional<LocalDate>> due = map.optional("due", date(), "until when it counts");
    return map.reads(
        v -> new Certificate(v.get(laboratory), v.get(number), v.get(calibrated), v.get(due)));
  }

  private static YamlForm<LocalDate> date() {
    return YamlForms.map(
        YamlForms.text("a date, as in 2027-03-31"),
        text -> {
          try {
            return LocalDate.parse(text);
          } catch (DateTimeParseException e) {
            throw new IllegalArgumentException(
                FileMessageText.quoted(text) + " is no date; expected one as in 2027-03-31", e);
          }
        });
  }
}
