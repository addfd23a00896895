// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.InstrumentEntry;

/** The instruments of a bench as entries of the logbook. */
final class LogbookInstrumentEntries {
  /** Maker, model, serial number, firmware: the fields of IEEE 488.2, 10.14. */
  private static final int IDN_FIELDS = 4;

  private static final int IDN_SERIAL = 2;

  private LogbookInstrumentEntries() {}

  static List<InstrumentEntry> of(BenchFile file, Map<String, String> identities, Instant since) {
    List<InstrumentEntry> entries = new ArrayList<>();
    for (BenchFile.Entry e : file.instruments().values()) {
      String identity = identities.getOrDefault(e.name(), "");
      entries.add(
          new InstrumentEntry(
              e.name(),
              e.roles().keySet().stream().map(RoleName::text).collect(Collectors.joining(", ")),
              e.driver(),
              e.address().toString(),
              identity,
              serial(identity),
              e.certificate()
                  .map(
                      c ->
                          new InstrumentEntry.Certificate(
                              c.laboratory(), c.number(), c.calibrated(), c.due())),
              since));
    }
    return entries;
  }

  /** The serial number in an identity of the standard form. */
  static Optional<String> serial(String identity) {
    List<String> fields = List.of(identity.split(",", -1));
    return fields.size() == IDN_FIELDS && !fields.get(IDN_SERIAL).isBlank()
        ? Optional.of(fields.get(IDN_SERIAL).strip())
        : Optional.empty();
  }

  /** A resumed run needs the instruments that it began with. */
  static void refuseChanged(List<InstrumentEntry> before, Map<String, String> now) {
    for (InstrumentEntry entry : before) {
      String found = now.getOrDefault(entry.name(), "no such instrument");
      if (!found.equals(entry.identity())) {
        throw new BadInputException(
            new InputFault(
                FilePlace.of("'" + entry.name() + "'"),
                "the instrument is another one: " + found,
                entry.identity(),
                "Connect the one the run began with, or say --accept-changed."));
      }
    }
  }
}
