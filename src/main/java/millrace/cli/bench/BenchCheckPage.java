// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.stream.Stream;
import millrace.bench.BenchFile;
import millrace.bench.check.BenchCheckFinding;
import millrace.bench.check.InstrumentCheck;
import millrace.bench.role.RoleName;
import millrace.cli.exit.ExitCode;
import millrace.evidence.Version;
import millrace.night.BenchSession;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.json.RunJson;

/**
 * The findings of a bench check, as a table and as JSON.
 *
 * @param setting the bench
 * @param replayed true if a recording answered instead of the instruments
 * @param instruments the findings on each instrument
 * @param others the other findings
 */
record BenchCheckPage(
    BenchSession setting,
    boolean replayed,
    List<InstrumentCheck> instruments,
    List<BenchCheckFinding> others) {

  /** All findings, instruments first. */
  List<BenchCheckFinding> findings() {
    return Stream.concat(instruments.stream().map(InstrumentCheck::finding), others.stream())
        .toList();
  }

  private String origin() {
    if (replayed) {
      return "replayed";
    }
    boolean says =
        instruments.stream().anyMatch(i -> i.identity().orElse("").contains("SIMULATED"));
    return says || setting.remembered().isPresent() ? "simulated" : "bench";
  }

  String table() {
    BenchFile file = setting.bench().file();
    StringBuilder text = new StringBuilder("bench '" + file.name() + "'");
    switch (origin()) {
      case "replayed" -> text.append(", REPLAYED: a recording answered in place of instruments");
      case "simulated" -> text.append(", SIMULATED: no real instrument is behind it");
      default -> {}
    }
    int width = findings().stream().mapToInt(f -> f.what().length()).max().orElse(0);
    for (BenchCheckFinding f : findings()) {
      text.append("\n%-9s  %s  %s".formatted(f.state().text(), pad(f.what(), width), f.text()));
    }
    return text.toString();
  }

  private static String pad(String text, int width) {
    return text + " ".repeat(width - text.length());
  }

  String json(ExitCode code) {
    ObjectNode document = JsonNodeFactory.instance.objectNode();
    document.put("millrace", Version.CURRENT);
    document.put("bench", setting.bench().file().name());
    document.put("origin", origin());
    ArrayNode list = document.putArray("instruments");
    instruments.forEach(i -> list.add(node(i)));
    ArrayNode checks = document.putArray("checks");
    others.forEach(f -> checks.add(node(f)));
    document.put("exit_code", code.number());
    return RunJson.text(document);
  }

  private static ObjectNode node(BenchCheckFinding f) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("what", f.what());
    node.put("state", f.state().text());
    node.put("found", f.text());
    return node;
  }

  private static ObjectNode node(InstrumentCheck i) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("instrument", i.entry().name());
    ArrayNode roles = node.putArray("roles");
    i.entry().roles().keySet().stream().map(RoleName::text).forEach(roles::add);
    node.put("driver", i.entry().driver());
    node.put("address", i.entry().address().toString());
    node.put("state", i.finding().state().text());
    node.put("identity", i.identity().orElse(null));
    node.put("round_trip_s", i.roundTrip().map(TimeSpanSeconds::seconds).orElse(null));
    ArrayNode errors = node.putArray("errors");
    i.errors().forEach(errors::add);
    node.put(
        "calibration_due",
        i.entry()
            .certificate()
            .flatMap(BenchFile.Certificate::due)
            .map(Object::toString)
            .orElse(null));
    node.put("overdue", i.overdue());
    node.put("trouble", i.trouble().orElse(null));
    return node;
  }
}
