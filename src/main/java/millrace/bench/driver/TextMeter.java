// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.evidence.setting.MeterSettings;
import millrace.link.WireText;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/**
 * A meter. Where the instrument takes several questions in one line, its settings are read back
 * with the question that ends their setting.
 */
final class TextMeter implements Meter {
  private static final String RANGE = "read range";
  private static final String CYCLES = "read cycles";

  private final RoleSpeaker speaker;

  TextMeter(RoleSpeaker speaker) {
    this.speaker = speaker;
  }

  @Override
  public Reply read() {
    return speaker.read();
  }

  @Override
  public Reply readLast() {
    return speaker.last();
  }

  @Override
  public List<MeterRange> ranges() {
    return speaker.commands().ranges();
  }

  @Override
  public void prepare(MeterRange range, double lineCycles) {
    speaker.talk().known().forget(speaker.role());
    Map<String, Double> values = Map.of("range", range.fullScale(), "cycles", lineCycles);
    Optional<List<String>> replies = speaker.sayAndAsk("prepare", values, questions());
    if (replies.isPresent()) {
      if (speaker.knows(RANGE)) {
        confirm(range, number(RANGE, replies.get().get(0)));
      }
      remember(told(replies.get()));
    } else if (speaker.knows(RANGE)) {
      confirm(range, speaker.read(RANGE));
    }
  }

  /** A meter on another range than requested would be judged by the wrong accuracy statement. */
  private void confirm(MeterRange range, Reply reply) {
    boolean same =
        reply instanceof Reply.Number n
            && n.value() >= range.fullScale() * (1 - 1e-6)
            && n.value() <= range.highest() * (1 + 1e-6);
    if (!same) {
      throw speaker
          .talk()
          .refusal(
              speaker.role(),
              "reads back its range as " + WireText.quoted(reply.raw()),
              shown(range.fullScale()));
    }
  }

  private String shown(double value) {
    Dimension kind =
        speaker.role() == RoleName.CURRENT_METER ? Dimension.CURRENT : Dimension.VOLTAGE;
    return QuantityText.print(value, kind);
  }

  @Override
  public MeterSettings readBack() {
    Optional<MeterSettings> known = speaker.talk().knownSettings(speaker.role());
    if (known.isPresent()) {
      return known.get();
    }
    MeterSettings asked =
        speaker
            .talk()
            .together(speaker.role(), questions())
            .map(this::told)
            .orElseGet(this::askedOneByOne);
    remember(asked);
    return asked;
  }

  @Override
  public MeterSettings readBackAnew() {
    speaker.talk().known().forget(speaker.role());
    return readBack();
  }

  private void remember(MeterSettings settings) {
    speaker.talk().remember(speaker.role(), settings);
  }

  private MeterSettings askedOneByOne() {
    Map<String, String> settings = new LinkedHashMap<>();
    numbers().forEach(name -> put(settings, name, speaker.read(name)));
    settings.putAll(speaker.talk().settings(speaker.role(), speaker.commands()));
    return MeterSettings.of(settings);
  }

  /** The questions for all settings, in the order in which they are told. */
  private List<String> questions() {
    List<String> all = new ArrayList<>();
    numbers().forEach(name -> all.add(speaker.question(name).text()));
    speaker.commands().readBack().values().forEach(s -> all.add(speaker.talk().filled(s)));
    return speaker.talk().isSimple(numbers().map(speaker::question)) ? all : List.of();
  }

  private Stream<String> numbers() {
    return Stream.of(RANGE, CYCLES).filter(speaker::knows);
  }

  private MeterSettings told(List<String> replies) {
    Iterator<String> next = replies.iterator();
    Map<String, String> settings = new LinkedHashMap<>();
    numbers().forEach(name -> put(settings, name, number(name, next.next())));
    speaker
        .commands()
        .readBack()
        .forEach((name, what) -> settings.put(name, speaker.talk().taken(what, next.next())));
    return MeterSettings.of(settings);
  }

  private Reply number(String name, String reply) {
    return speaker.talk().understood(speaker.question(name), reply);
  }

  private void put(Map<String, String> settings, String name, Reply reply) {
    if (reply instanceof Reply.Number n) {
      settings.put(
          name.equals(RANGE) ? "range" : "cycles",
          name.equals(RANGE) ? shown(n.value()) : NumberText.print(n.value()));
    }
  }
}
