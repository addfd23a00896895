// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.fault.LogbookException;
import millrace.quantity.NumberText;

/** Small maps and lists of words in one column, as JSON with sorted keys. */
final class JsonColumnText {
  private static final String NO_WORDS = "{}";
  private static final String NO_LINES = "[]";

  private JsonColumnText() {}

  /** The factory is created only when a map or list is not empty, which saves start-up time. */
  private static final class Json {
    static final JsonFactory FACTORY = new JsonFactory();
  }

  static String ofMap(Map<String, String> words) {
    return words.isEmpty()
        ? NO_WORDS
        : written(
            json -> {
              json.writeStartObject();
              for (Map.Entry<String, String> each : new TreeMap<>(words).entrySet()) {
                json.writeStringField(each.getKey(), each.getValue());
              }
              json.writeEndObject();
            });
  }

  static String ofList(List<String> lines) {
    return lines.isEmpty()
        ? NO_LINES
        : written(
            json -> {
              json.writeStartArray();
              for (String each : lines) {
                json.writeString(each);
              }
              json.writeEndArray();
            });
  }

  static Map<String, String> map(String text) {
    Map<String, String> words = new LinkedHashMap<>();
    if (!text.equals(NO_WORDS)) {
      read(
          text,
          json -> {
            while (json.nextToken() == JsonToken.FIELD_NAME) {
              String key = json.currentName();
              words.put(key, json.nextTextValue());
            }
          });
    }
    return words;
  }

  static List<String> list(String text) {
    List<String> lines = new ArrayList<>();
    if (!text.equals(NO_LINES)) {
      read(
          text,
          json -> {
            while (json.nextToken() == JsonToken.VALUE_STRING) {
              lines.add(json.getText());
            }
          });
    }
    return lines;
  }

  /** Conditions of a result: numbers as numbers, words as texts, in the order of the keys. */
  static String ofAt(ResultConditions at) {
    return written(
        json -> {
          json.writeStartObject();
          for (Map.Entry<ResultConditionKey, Object> each : at.all().entrySet()) {
            json.writeFieldName(each.getKey().text());
            if (each.getValue() instanceof Double number) {
              json.writeNumber(NumberText.print(number));
            } else {
              json.writeString(each.getValue().toString());
            }
          }
          json.writeEndObject();
        });
  }

  static ResultConditions at(String text) {
    SortedMap<ResultConditionKey, Double> numbers = new TreeMap<>();
    SortedMap<ResultConditionKey, String> words = new TreeMap<>();
    read(
        text,
        json -> {
          while (json.nextToken() == JsonToken.FIELD_NAME) {
            ResultConditionKey key =
                StoredEnumWords.known(ResultConditionKey.class, json.currentName());
            if (json.nextToken().isNumeric()) {
              numbers.put(key, json.getDoubleValue());
            } else {
              words.put(key, json.getText());
            }
          }
        });
    return new ResultConditions(numbers, words);
  }

  /** Writes some JSON. */
  private interface Writing {
    void into(JsonGenerator json) throws IOException;
  }

  /** Reads what is inside the outermost brackets. */
  private interface Reading {
    void from(JsonParser json) throws IOException;
  }

  private static String written(Writing writing) {
    StringWriter out = new StringWriter();
    try (JsonGenerator json = Json.FACTORY.createGenerator(out)) {
      writing.into(json);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return out.toString();
  }

  private static void read(String text, Reading reading) {
    try (JsonParser json = Json.FACTORY.createParser(text)) {
      json.nextToken();
      reading.from(json);
    } catch (IOException e) {
      throw new LogbookException(
          "the logbook holds a text that Millrace never writes, so it was changed by something"
              + " else: 'millrace show RUN --verify' tells more. Work on with a backup.",
          e);
    }
  }
}
