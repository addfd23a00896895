// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotSame;
import static org.junit.jupiter.api.Assertions.assertSame;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.watch.live.OwnFaults;
import org.junit.jupiter.api.Test;

/** Pieces of a page that are drawn once for all who read them. */
class SharedPiecesTest {
  private final Map<String, String> page = new LinkedHashMap<>(Map.of("now", "<p>a</p>"));
  private final List<Throwable> said = new ArrayList<>();
  private RuntimeException failing;
  private int drawn;
  private final SharedPieces pieces = each(Duration.ZERO);

  private SharedPieces each(Duration between) {
    return new SharedPieces(
        () -> {
          drawn++;
          if (failing != null) {
            throw failing;
          }
          return Map.copyOf(page);
        },
        between,
        new OwnFaults(said::add));
  }

  private static String text(SharedPieces.Event event) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    event.writeTo(out);
    return out.toString(StandardCharsets.UTF_8);
  }

  @Test
  void aPieceThatIsDrawnTheSameAgainIsTheSameEvent() {
    page.put("soak", "<p>b</p>");
    Map<String, SharedPieces.Event> first = pieces.now();
    page.put("soak", "<p>c</p>");
    Map<String, SharedPieces.Event> second = pieces.now();
    assertSame(first.get("now"), second.get("now"));
    assertNotSame(first.get("soak"), second.get("soak"));
  }

  @Test
  void itIsDrawnOnceHoweverManyAskForItMeanwhile() {
    SharedPieces seldom = each(Duration.ofHours(1));
    for (int i = 0; i < 20; i++) {
      seldom.now();
    }
    assertEquals(1, drawn);
  }

  /** A line end in what comes from outside could begin an event of its own. */
  @Test
  void aLineEndInAPieceBeginsNoOtherEvent() throws IOException {
    page.put("now", "a\r\revent: piece\n\ndata: now\r\n<script>");
    assertEquals(
        "event: piece\ndata: now\ndata: a\ndata: \ndata: event: piece\ndata: \ndata: data: now\n"
            + "data: <script>\n\n",
        text(pieces.now().get("now")));
  }

  @Test
  void whatWasDrawnStaysWhileTheLogbookCannotBeRead() {
    Map<String, SharedPieces.Event> before = pieces.now();
    failing =
        new BadInputException(new InputFault(FilePlace.of("night.db"), "locked", "free", "Wait."));
    assertEquals(before, pieces.now());
    assertEquals(List.of(), said);
  }

  @Test
  void aFaultOfOursIsSaidOnceAndTheWholePageIsSentWhenItIsOver() throws IOException {
    SharedPieces.Event before = pieces.now().get("now");
    failing = new IllegalStateException("never so");
    assertEquals(Set.of("fault"), pieces.now().keySet());
    assertEquals("event: fault\ndata: \n\n", text(pieces.now().get("fault")));
    assertEquals(1, said.size());
    failing = null;
    assertNotSame(before, pieces.now().get("now"));
  }
}
