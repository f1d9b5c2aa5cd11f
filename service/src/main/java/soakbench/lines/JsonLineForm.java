package soakbench.lines;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.io.JsonEOFException;
import com.fasterxml.jackson.core.json.JsonReadFeature;
import java.io.IOException;
import soakbench.lines.Rejection.Kind;

/** JSON Lines: one object a line. Keys that it doesn't know are passed over. */
final class JsonLineForm {
  // Names are not interned: garbage must not fill a table that is never emptied. NaN isn't JSON,
  // but firmware prints it, and the better answer is that the value is absurd.
  private static final JsonFactory FACTORY =
      JsonFactory.builder()
          .disable(JsonFactory.Feature.INTERN_FIELD_NAMES)
          .enable(JsonReadFeature.ALLOW_NON_NUMERIC_NUMBERS)
          .enable(StreamReadFeature.USE_FAST_DOUBLE_PARSER)
          .build();

  private static final Rejection EMPTY =
      new Rejection(Kind.CHATTER, "an object without any known key");
  private static final Rejection CUT =
      new Rejection(Kind.HALF_LINE, "the object ends before its closing brace");

  private static final Column[] GYRO_DPS = {Column.GX_DPS, Column.GY_DPS, Column.GZ_DPS};
  private static final Column[] GYRO_RADS = {Column.GX_RADS, Column.GY_RADS, Column.GZ_RADS};
  private static final Column[] ACCEL_G = {Column.AX_G, Column.AY_G, Column.AZ_G};
  private static final Column[] ACCEL_MS2 = {Column.AX_MS2, Column.AY_MS2, Column.AZ_MS2};

  private final ReadingDraft draft = new ReadingDraft();

  LineResult parse(byte[] line, int offset, int length) {
    draft.clear();
    try (JsonParser json = FACTORY.createParser(line, offset, length)) {
      return parse(json);
    } catch (JsonEOFException e) {
      return CUT;
    } catch (IOException e) {
      // Not a fault of input or output: the bytes are in memory, they just aren't JSON.
      return line[offset + length - 1] == '}' ? malformed(e) : CUT;
    }
  }

  private LineResult parse(JsonParser json) throws IOException {
    json.nextToken();
    boolean anyKnown = false;
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String key = json.currentName();
      json.nextToken();
      anyKnown |= take(key, json);
    }
    if (json.nextToken() != null) {
      return new Rejection(Kind.MALFORMED, "more text after the object's closing brace");
    }
    return anyKnown ? draft.finish() : EMPTY;
  }

  private boolean take(String key, JsonParser json) throws IOException {
    switch (key) {
      case "id" -> id(Column.ID, json);
      case "boot" -> id(Column.BOOT, json);
      case "time" -> time(Column.TIME, json);
      case "arrival" -> time(Column.ARRIVAL, json);
      case "seq" -> number(Column.SEQ, json);
      case "t_ms" -> number(Column.T_MS, json);
      case "temp_c" -> number(Column.TEMP_C, json);
      case "temp_held" -> flag(key, json);
      case "gyro_dps" -> axes(key, GYRO_DPS, json);
      case "gyro_rads" -> axes(key, GYRO_RADS, json);
      case "accel_g" -> axes(key, ACCEL_G, json);
      case "accel_ms2" -> axes(key, ACCEL_MS2, json);
      default -> {
        json.skipChildren();
        return false;
      }
    }
    return true;
  }

  /** An id may be a bare number. */
  private void id(Column column, JsonParser json) throws IOException {
    if (json.currentToken() == JsonToken.VALUE_NUMBER_INT) {
      draft.text(column, json.getText());
    } else if (isText(json)) {
      draft.text(column, json.getText());
    } else {
      refuse(column.label(), "text", json);
    }
  }

  private void time(Column column, JsonParser json) throws IOException {
    if (isText(json)) {
      draft.text(column, json.getText());
    } else if (json.currentToken() == JsonToken.VALUE_NULL) {
      return;
    } else {
      json.skipChildren();
      draft.rejectTime(column, column.label() + " must be text like 2026-01-31T12:00:00.000Z");
    }
  }

  private void number(Column column, JsonParser json) throws IOException {
    if (json.currentToken().isNumeric()) {
      draft.number(column, json.getDoubleValue());
    } else {
      refuse(column.label(), "a number", json);
    }
  }

  private void flag(String key, JsonParser json) throws IOException {
    if (json.currentToken().isBoolean()) {
      draft.temperatureHeld(json.getBooleanValue());
    } else {
      refuse(key, "true or false", json);
    }
  }

  private void axes(String key, Column[] columns, JsonParser json) throws IOException {
    if (json.currentToken() != JsonToken.START_ARRAY) {
      refuse(key, "three numbers like [0.31,-0.12,0.05]", json);
      return;
    }
    int count = 0;
    while (json.nextToken() != JsonToken.END_ARRAY) {
      if (count < columns.length) {
        number(columns[count], json);
      } else {
        json.skipChildren();
      }
      count++;
    }
    if (count != columns.length) {
      draft.reject(Kind.MALFORMED, key + " has " + count + " values instead of 3");
    }
  }

  private static boolean isText(JsonParser json) {
    return json.currentToken() == JsonToken.VALUE_STRING;
  }

  /** Null stands for a value that the line lacks; anything else is refused. */
  private void refuse(String key, String expected, JsonParser json) throws IOException {
    if (json.currentToken() != JsonToken.VALUE_NULL) {
      json.skipChildren();
      draft.reject(Kind.MALFORMED, key + " must be " + expected);
    }
  }

  private static Rejection malformed(IOException e) {
    JsonLocation place = e instanceof JsonProcessingException json ? json.getLocation() : null;
    String where = place == null ? "" : " at character " + place.getColumnNr();
    return new Rejection(Kind.MALFORMED, "not JSON" + where);
  }
}
