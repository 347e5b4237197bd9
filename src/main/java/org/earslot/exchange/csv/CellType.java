package org.earslot.exchange.csv;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.earslot.ear.Answer;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/**
 * What the cells of a column hold: how a cell is read, and how a value is written so that it is read back as the same.
 *
 * @param <T> the values
 */
public final class CellType<T> {

    /** The shapes of cells, whatever the values. */
    public enum Shape {
        TEXT,
        WORD,
        WORDS,
        WHOLE,
        DATE,
        TIME
    }

    private static final String FILL_IN = "fill it in";

    /** A name or a reference, at most 200 characters. */
    public static final CellType<String> NAME = new CellType<>(Shape.TEXT, Cells::name, name -> name, FILL_IN);

    /** Free text as it stands. */
    public static final CellType<String> TEXT = new CellType<>(Shape.TEXT, Cells::text, text -> text, FILL_IN);

    /** A date, 1900-01-01 to 2199-12-31. */
    public static final CellType<LocalDate> DATE =
            new CellType<>(Shape.DATE, Cells::date, LocalDate::toString, "write the date like 2026-04-14");

    /** A time of day to the minute. */
    public static final CellType<LocalTime> TIME =
            new CellType<>(Shape.TIME, Cells::time, LocalTime::toString, FILL_IN);

    /** "yes" or "no"; an empty cell is "not known". */
    public static final CellType<Answer> ANSWER = answer(word(new Answer[] {Answer.YES, Answer.NO}));

    private final Shape shape;
    private final List<Word> words;
    private final Reader<T> reader;
    private final Reader<T> requiredReader;
    private final Function<T, String> writer;

    private CellType(Shape shape, Reader<T> reader, Function<T, String> writer, String remedy) {
        this(
                shape,
                List.of(),
                reader,
                (cells, column) -> cells.required(column, reader.read(cells, column), remedy),
                writer);
    }

    private CellType(
            Shape shape, List<Word> words, Reader<T> reader, Reader<T> requiredReader, Function<T, String> writer) {
        this.shape = shape;
        this.words = words;
        this.reader = reader;
        this.requiredReader = requiredReader;
        this.writer = writer;
    }

    private interface Reader<T> {
        @Nullable
        T read(Cells cells, String column);
    }

    /** The same values where every cell must hold one. */
    public static <T> CellType<T> required(CellType<T> type) {
        return new CellType<>(type.shape, type.words, type.requiredReader, type.requiredReader, type.writer);
    }

    /** The same values where they are a patient's own details: a fault does not repeat them. */
    public static <T> CellType<T> personal(CellType<T> type) {
        return new CellType<>(
                type.shape,
                type.words,
                (cells, column) -> type.reader.read(cells.withholding(column), column),
                (cells, column) -> type.requiredReader.read(cells.withholding(column), column),
                type.writer);
    }

    /** A whole number from {@code least} to {@code most}. */
    public static CellType<Integer> whole(int least, int most) {
        return new CellType<>(
                Shape.WHOLE, (cells, column) -> cells.whole(column, least, most), String::valueOf, FILL_IN);
    }

    /** One word of a list. */
    public static <W extends Word> CellType<W> word(W[] words) {
        return new CellType<>(
                Shape.WORD,
                List.of(words),
                (cells, column) -> cells.word(column, words),
                (cells, column) -> cells.requiredWord(column, words),
                Word::code);
    }

    /** Any words of a list in their order, joined by semicolons. */
    public static <W extends Word> CellType<List<W>> words(W[] words) {
        return new CellType<>(
                Shape.WORDS,
                List.of(words),
                (cells, column) -> cells.words(column, words),
                (cells, column) -> cells.words(column, words),
                many -> many.stream().map(Word::code).collect(Collectors.joining(";")));
    }

    /** The same words, each once. */
    public static <W extends Word> CellType<List<W>> distinctWords(W[] words) {
        return new CellType<>(
                Shape.WORDS,
                List.of(words),
                (cells, column) -> distinct(cells.words(column, words)),
                (cells, column) -> distinct(cells.words(column, words)),
                words(words).writer);
    }

    private static <W> List<W> distinct(List<W> words) {
        return words.stream().distinct().toList();
    }

    private static CellType<Answer> answer(CellType<Answer> word) {
        return new CellType<>(
                Shape.WORD,
                word.words,
                (cells, column) -> {
                    Answer answer = word.read(cells, column);
                    return answer == null ? Answer.NOT_KNOWN : answer;
                },
                word.requiredReader,
                answer -> answer == Answer.NOT_KNOWN ? "" : answer.code());
    }

    public Shape shape() {
        return shape;
    }

    /** The words of the list; empty where cells hold no words of a list. */
    public List<Word> words() {
        return words;
    }

    /** The value of a cell, or null where there is none or it cannot be read; in the second case a fault is noted. */
    public @Nullable T read(Cells cells, String column) {
        return reader.read(cells, column);
    }

    /** Whether every cell must hold a value; an empty one is then a fault. */
    public boolean isRequired() {
        return reader == requiredReader;
    }

    /** The cell that holds the value; empty where there is none. */
    public String write(@Nullable T value) {
        return value == null ? "" : writer.apply(value);
    }
}
