// SPDX-License-Identifier: Apache-2.0
package millrace.run.notice;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.time.SystemClock;

/** One POST with the facts of an event as JSON, tried again where it fails. Single-threaded. */
final class WebHook {
  private static final int ATTEMPTS = 3;
  private static final int GOOD = 2;
  private static final Duration BETWEEN = Duration.ofSeconds(1);

  private final URI address;
  private final Duration within;

  WebHook(URI address, Duration within) {
    String scheme = String.valueOf(address.getScheme());
    if (!scheme.matches("https?") || address.getHost() == null) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("--notify-url " + address),
              "it is no address of a web page",
              "an address such as https://example.org/notices",
              "Begin it with http:// or https:// and a host."));
    }
    this.address = address;
    this.within = within;
  }

  /**
   * Tells an event.
   *
   * @param facts by name
   * @return why it could not be told; empty if it was
   */
  Optional<String> tell(Map<String, String> facts) {
    HttpRequest request =
        HttpRequest.newBuilder(address)
            .timeout(within)
            .header("Content-Type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(json(facts)))
            .build();
    HttpClient client = HttpClient.newBuilder().connectTimeout(within).build();
    String why = "";
    try {
      for (int i = 0; i < ATTEMPTS; i++) {
        if (i > 0) {
          new SystemClock().sleep(BETWEEN);
        }
        why = attempt(client, request);
        if (why.isEmpty()) {
          return Optional.empty();
        }
      }
      return Optional.of(why + ", at " + ATTEMPTS + " attempts");
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return Optional.of("was not waited for, since the run is to stop");
    }
  }

  private static String attempt(HttpClient client, HttpRequest request)
      throws InterruptedException {
    try {
      int status = client.send(request, HttpResponse.BodyHandlers.discarding()).statusCode();
      return status / 100 == GOOD ? "" : "answered with status " + status;
    } catch (IOException e) {
      return "did not answer";
    }
  }

  private static String json(Map<String, String> facts) {
    try {
      return new ObjectMapper().writeValueAsString(facts);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("words are always JSON", e);
    }
  }
}
