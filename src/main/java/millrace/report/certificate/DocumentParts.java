// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.datasheet.Datasheet;
import millrace.evidence.Result;
import millrace.laboratory.Laboratory;
import millrace.logbook.RunReader;
import millrace.report.markup.Markup;

/** Parts that the certificate and the test sheet share. Stateless, thread-safe. */
final class DocumentParts {
  /** The mark on every page of a simulated run. */
  static final String SIMULATED = "SIMULATED";

  private DocumentParts() {}

  /** Writes name and address of the issuer into the open cell. */
  static void issuer(Markup out, Laboratory laboratory, boolean shortly) {
    out.element("strong", laboratory.name());
    List<String> address = laboratory.address();
    (shortly ? List.of(String.join(", ", address)) : address)
        .forEach(line -> out.element("div", line));
    laboratory.contact().ifPresent(line -> out.element("div", line));
    laboratory.accreditation().ifPresent(line -> out.element("div", line));
  }

  /** Writes a row of facts: a name and the lines of its value. */
  static void fact(Markup out, String name, List<String> lines) {
    out.line().open("tr").element("th", name, "scope", "row").open("td");
    lines.forEach(line -> out.element("div", line));
    out.close().close();
  }

  /** The kind of the unit, from its datasheet. */
  static String kind(Assessment assessment) {
    return "DC current source "
        + assessment
            .basis()
            .datasheet()
            .map(Datasheet::name)
            .orElse("of a kind that no datasheet names");
  }

  /** Results with a limit, grouped by range, in the order of each range's first result. */
  static List<Result> judged(Assessment assessment) {
    Map<Optional<String>, List<Result>> ranges = new LinkedHashMap<>();
    assessment.results().stream()
        .filter(r -> r.judgement().isPresent())
        .forEach(r -> ranges.computeIfAbsent(r.range(), k -> new ArrayList<>()).add(r));
    return ranges.values().stream().flatMap(List::stream).toList();
  }

  /** Leaves room for the signatures of the tester and the releaser. */
  static void signatures(Markup out, Optional<String> testedBy, Optional<String> releasedBy) {
    out.line().open("table", "class", "signatures").open("tr");
    signature(out, "Tested by", testedBy);
    signature(out, "Released by", releasedBy);
    out.close().close();
  }

  private static void signature(Markup out, String what, Optional<String> who) {
    out.open("td");
    out.element("div", who.orElse("\u00a0"), "class", "name");
    out.element("div", what + (who.isPresent() ? "" : ": name, function") + ", date, signature");
    out.close();
  }

  /** Writes the identity of the run and the digest that proves its readings. */
  static void digest(Markup out, Assessment assessment, RunReader run) {
    out.line().open("p", "class", "digest").text("SHA-256 of what was measured: ");
    out.element("code", assessment.run().digest().orElseGet(run::digest));
    run.seal().ifPresent(s -> out.text("; sealed with results: ").element("code", s));
    out.close();
  }
}
