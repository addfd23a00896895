// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.nio.file.Path;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import millrace.bench.BenchFile.BeforeChange;
import millrace.bench.BenchFile.Certificate;
import millrace.bench.BenchFile.Entry;
import millrace.bench.BenchFile.Wiring;
import millrace.bench.role.RoleName;
import millrace.document.FileMessageText;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
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
    return YamlMapForm.of(
        "a bench file",
        map ->
            new BenchFile(
                map.required("bench", YamlForms.text("a name"), "what the bench is called"),
                map.optional(
                    "simulated",
                    YamlForms.yesNo(),
                    false,
                    "yes if no real instrument is behind it"),
                map.optional("line frequency", Dimension.FREQUENCY, 50.0, "default 50 Hz"),
                map.required(
                    "instruments",
                    YamlForms.named("names of instruments", BenchForms::instrument),
                    "what is connected"),
                map.optional("wiring", WiringForms.WIRING, Wiring.NONE, "how they are connected"),
                map.optional(
                    "before a change",
                    YamlForms.choice(BeforeChange.values(), BeforeChange::text),
                    BeforeChange.SOURCE_OFF,
                    "short output, or source off (default): a live current loop is never opened"),
                map.optional(
                    "safe order",
                    YamlForms.list(YamlForms.text("an instrument's name"), 0),
                    List.of(),
                    "order in which instruments are made safe; default that of the file"),
                map.optional(
                    "interlocks",
                    InterlockForms.INTERLOCKS,
                    Interlocks.NONE,
                    "what must never happen"),
                map.optional(
                    "slots",
                    YamlForms.named("names of slots", YamlForms.text("a switch position")),
                    Map.of(),
                    "where units sit: slot to switch position"),
                map.optional(
                    "check standards",
                    YamlForms.named("names of standards", WiringForms.STANDARD),
                    Map.of(),
                    "stable sources that the switch can connect")));
  }

  private static YamlForm<Entry> instrument(String name) {
    return YamlMapForm.of(
        "an instrument",
        map ->
            new Entry(
                map.place(),
                name,
                map.required("driver", YamlForms.text("a driver's name"), "how to speak to it"),
                map.required("address", address(), "where it is"),
                map.required("roles", roles(), "what it does in a run"),
                map.optional(
                    "settings",
                    YamlForms.named("names of settings", YamlForms.text("a word")),
                    Map.of(),
                    "words for the driver"),
                map.optional(
                    "words",
                    YamlForms.named("names of ranges or positions", YamlForms.text("a word")),
                    Map.of(),
                    "what the instrument calls ranges and positions; default the same"),
                map.optional("certificate", CERTIFICATE, "its calibration"),
                map.optional("identity", YamlForms.pattern(), "what its identity must match"),
                map.optional(
                    "warm-up",
                    YamlForms.span(),
                    "from power-on until its accuracy holds, as its manual says")));
  }

  private static YamlForm<LinkAddress> address() {
    return YamlForms.parsed(
        "an address, " + LinkAddress.GRAMMAR, "tcp 127.0.0.1:5025", LinkAddress::parse);
  }

  private static YamlForm<Map<RoleName, RoleFacts>> roles() {
    YamlForm<Map<RoleName, RoleFacts>> roles =
        YamlMapForm.of(
            "roles",
            map -> {
              Map<RoleName, RoleFacts> found = new EnumMap<>(RoleName.class);
              for (RoleName role : RoleName.values()) {
                map.optional(role.text(), RoleFactsForms.facts(role), "what is known of it")
                    .ifPresent(facts -> found.put(role, facts));
              }
              return found;
            });
    return YamlForms.checked(
        roles,
        found -> {
          if (found.isEmpty()) {
            throw new IllegalArgumentException(
                "an instrument without a role; expected one, such as 'voltmeter: {}'");
          }
        });
  }

  private static final YamlForm<Certificate> CERTIFICATE =
      YamlMapForm.of(
          "a certificate",
          map ->
              new Certificate(
                  map.required("laboratory", YamlForms.text("a laboratory"), "who issued it"),
                  map.required("number", YamlForms.text("a number"), "its number"),
                  map.optional("calibrated", date(), "when"),
                  map.optional("due", date(), "until when it counts")));

  private static YamlForm<LocalDate> date() {
    return YamlForms.parsed(
        "a date, as in 2027-03-31",
        "2027-03-31",
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
