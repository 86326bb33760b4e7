#include "collection/phrases.hpp"

#include "collection/phrase_table.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <iterator>

namespace collection {

namespace {

constexpr std::size_t longest_text = 4000; // bytes
constexpr std::size_t most_phrases = 16;   // more are no caption
constexpr int largest_number = 999;

struct Token {
    enum class Kind : std::uint8_t {
        word, ///< or a number, or one of # + =
        move,
        clause,   ///< a mark that ends a clause
        sentence, ///< a mark that ends a sentence
        question,
    };
    Kind kind = Kind::word;
    std::string text; ///< lower case; of words only
    std::size_t begin = 0;
    std::size_t end = 0;
};

bool is_word_character(char32_t code) {
    return (code < 0x80 && (is_letter(static_cast<char>(code)) || is_digit(static_cast<char>(code)))) ||
           (code >= 0xc0 && code < 0x2000 && code != 0xd7 && code != 0xf7);
}

bool is_apostrophe(char32_t code) {
    return code == '\'' || code == 0x2019;
}

/// Latin-1 letters too: what captions in European languages need.
char32_t lower_code(char32_t code) {
    const bool capital = (code >= 'A' && code <= 'Z') || (code >= 0xc0 && code <= 0xde && code != 0xd7);
    return capital ? code + 0x20 : code;
}

class Tokeniser {
  public:
    explicit Tokeniser(std::string_view text) : m_text(text) {}

    std::vector<Token> read() {
        while (m_at < m_text.size()) {
            step();
        }
        return std::move(m_tokens);
    }

  private:
    void add(Token::Kind kind, std::size_t end, std::string text = {}) {
        m_tokens.push_back({kind, std::move(text), m_at, end});
        m_at = end;
    }

    [[nodiscard]] char next() const { return m_at + 1 < m_text.size() ? m_text[m_at + 1] : '\0'; }

    void step() {
        const Character c = character_at(m_text, m_at);
        if (is_word_character(c.code)) {
            return take_move() ? void() : take_word();
        }
        const std::size_t end = m_at + c.length;
        switch (c.code) {
        case '#':
        case '+':
        case '=':
            return add(Token::Kind::word, end, std::string(1, static_cast<char>(c.code)));
        case '?':
            return add(Token::Kind::question, end);
        case '.':
        case '!':
        case 0x2026: // an ellipsis
            return add(Token::Kind::sentence, end);
        case '-':
            return hyphen(end);
        case ' ':
        case '\t':
        case '\r':
        case 0xa0:
            return skip(end);
        case '\n':
            return next() == '\n' ? add(Token::Kind::sentence, end) : skip(end);
        default:
            return is_apostrophe(c.code) ? skip(end) : add(Token::Kind::clause, end);
        }
    }

    void skip(std::size_t end) { m_at = end; }

    /// "two-mover" is two words, " - " parts clauses, "-+" is none of ours.
    void hyphen(std::size_t end) {
        const auto in_word = [this](std::size_t at) {
            return is_letter(m_text[at]) || is_digit(m_text[at]) ||
                   static_cast<unsigned char>(m_text[at]) > 0x7f;
        };
        if (m_at > 0 && end < m_text.size() && in_word(m_at - 1) && in_word(end)) {
            return skip(end);
        }
        const bool alone = end == m_text.size() || is_blank(m_text[end]);
        return alone ? add(Token::Kind::clause, end) : add(Token::Kind::word, end, "-");
    }

    /// "Nf3", "12.Nf3", "e4", "1...O-O": letters and digits mixed, or castling.
    bool take_move() {
        const std::size_t end = std::min(m_text.find_first_of(" \t\r\n,;:()[]{}\"!?/", m_at), m_text.size());
        const std::string_view run = m_text.substr(m_at, end - m_at);
        std::string_view move = run.substr(std::min(run.find_first_not_of("0123456789"), run.size()));
        move = move.size() == run.size() || move.starts_with('.') ? move : run; // no number, or one with dots
        const std::size_t begins = move.find_first_not_of('.');
        move = begins == std::string_view::npos ? std::string_view() : move.substr(begins);
        const bool letters = std::any_of(move.begin(), move.end(), is_letter);
        const bool digits = std::any_of(move.begin(), move.end(), is_digit);
        const bool castles = move.starts_with("O-O") || move.starts_with("0-0");
        if ((letters && digits) || castles) {
            add(Token::Kind::move, end);
            return true;
        }
        return false;
    }

    void take_word() {
        std::string text;
        std::size_t end = m_at;
        const bool number = is_digit(m_text[m_at]);
        while (end < m_text.size()) {
            const Character c = character_at(m_text, end);
            const bool inside =
                is_word_character(c.code) ||
                (is_apostrophe(c.code) && is_word_character(character_at(m_text, end + c.length).code));
            if (!inside || (c.code < 0x80 && is_digit(static_cast<char>(c.code))) != number) {
                break;
            }
            append_utf8(text, is_apostrophe(c.code) ? U'\'' : lower_code(c.code));
            end += c.length;
        }
        add(Token::Kind::word, end, std::move(text));
    }

    std::string_view m_text;
    std::size_t m_at = 0;
    std::vector<Token> m_tokens;
};

/// One language's reading of a text.
class PhrasesReader {
  public:
    PhrasesReader(const Language& language, const std::vector<Token>& tokens) : m_language(language) {
        std::copy_if(tokens.begin(), tokens.end(), std::back_inserter(m_tokens), [&](const Token& token) {
            return token.kind != Token::Kind::word || language.articles.count(token.text) == 0;
        });
        m_covered.assign(m_tokens.size(), false);
    }

    PhrasesRead read() {
        for (std::size_t begin = 0; begin < m_tokens.size();) {
            std::size_t end = begin;
            while (end < m_tokens.size() && m_tokens[end].kind != Token::Kind::sentence &&
                   m_tokens[end].kind != Token::Kind::question) {
                ++end;
            }
            read_sentence(begin, end);
            begin = end + 1;
        }
        return std::move(m_out);
    }

  private:
    void read_sentence(std::size_t begin, std::size_t end) {
        const std::size_t first = m_out.phrases.size();
        for (std::size_t at = begin; at < end;) {
            std::size_t clause = at;
            while (clause < end && m_tokens[clause].kind == Token::Kind::word) {
                ++clause;
            }
            read_clause(at, clause);
            at = clause + 1;
        }
        bool doubted = end < m_tokens.size() && m_tokens[end].kind == Token::Kind::question;
        for (std::size_t i = begin; i < end; ++i) {
            doubted |= m_tokens[i].kind == Token::Kind::move ||
                       (!m_covered[i] && m_language.doubt.count(m_tokens[i].text) > 0);
        }
        m_out.doubtful |= doubted;
        for (std::size_t i = first; i < m_out.phrases.size(); ++i) {
            m_out.phrases[i].doubted = doubted;
        }
    }

    /// Phrases and fillers and nothing else; else only a phrase that opens the clause counts.
    void read_clause(std::size_t begin, std::size_t end) {
        std::vector<Phrase> found;
        std::vector<std::pair<std::size_t, std::size_t>> places;
        bool whole = true;
        for (std::size_t at = begin; at < end;) {
            Phrase phrase;
            const Pattern* pattern = nullptr;
            const std::size_t length = longest(at, end, phrase, pattern);
            if (length == 0) {
                whole = whole && m_language.fillers.count(m_tokens[at].text) > 0;
                ++at;
                continue;
            }
            const bool opens = pattern->opens && at == begin && goes_on(*pattern, at + length, end);
            if (pattern->opens && !opens) {
                whole = false;
            } else if (opens) {
                take(phrase, at, length);
            } else {
                found.push_back(phrase);
                places.emplace_back(at, length);
            }
            at += length;
        }
        for (std::size_t i = 0; whole && i < found.size(); ++i) {
            take(found[i], places[i].first, places[i].second);
        }
    }

    void take(const Phrase& phrase, std::size_t at, std::size_t length) {
        m_out.phrases.push_back(phrase);
        std::fill_n(m_covered.begin() + static_cast<std::ptrdiff_t>(at), length, true);
    }

    [[nodiscard]] bool goes_on(const Pattern& pattern, std::size_t next, std::size_t end) const {
        return next == end ||
               std::find(pattern.then.begin(), pattern.then.end(), m_tokens[next].text) != pattern.then.end();
    }

    std::size_t longest(std::size_t at, std::size_t end, Phrase& phrase, const Pattern*& pattern) const {
        std::size_t best = 0;
        for (const Pattern& candidate : m_language.patterns) {
            Phrase read;
            read.kind = candidate.kind;
            read.of_lines = candidate.of_lines;
            const std::size_t length = match(candidate, at, end, read);
            if (length > best) {
                best = length;
                phrase = read;
                pattern = &candidate;
            }
        }
        if (best > 0) {
            phrase.number = phrase.kind == PhraseKind::mate ? std::max(phrase.number, 1) : phrase.number;
            phrase.begin = m_tokens[at].begin;
            phrase.end = m_tokens[at + best - 1].end;
        }
        return best;
    }

    /// Tokens that the pattern takes from `at` on; 0 when it does not fit.
    std::size_t match(const Pattern& pattern, std::size_t at, std::size_t end, Phrase& phrase) const {
        std::size_t next = at;
        for (const Slot& slot : pattern.slots) {
            const std::size_t length = slot.kind == Slot::Kind::word
                                           ? (next < end && m_tokens[next].text == slot.word ? 1 : 0)
                                           : match_slot(slot.kind, next, end, phrase);
            if (length == 0) {
                return 0;
            }
            next += length;
        }
        return next - at;
    }

    std::size_t match_slot(Slot::Kind kind, std::size_t at, std::size_t end, Phrase& phrase) const {
        if (kind == Slot::Kind::number && at < end && is_digit(m_tokens[at].text.front())) {
            const std::string& digits = m_tokens[at].text;
            phrase.number = digits.size() > 3 ? largest_number + 1 : std::stoi(digits);
            return phrase.number > 0 && phrase.number <= largest_number ? 1 : 0;
        }
        for (const Spelling& spelling : m_language.spellings.at(static_cast<std::size_t>(kind))) {
            if (at + spelling.words.size() <= end && fits(spelling.words, at)) {
                bind(kind, spelling.meaning, phrase);
                return spelling.words.size();
            }
        }
        return 0;
    }

    [[nodiscard]] bool fits(const std::vector<std::string>& words, std::size_t at) const {
        return std::equal(words.begin(), words.end(), m_tokens.begin() + static_cast<std::ptrdiff_t>(at),
                          [](const std::string& word, const Token& token) { return token.text == word; });
    }

    static void bind(Slot::Kind kind, int meaning, Phrase& phrase) {
        if (kind == Slot::Kind::side) {
            phrase.side = meaning == 0 ? board::Color::white : board::Color::black;
        } else if (kind == Slot::Kind::number) {
            phrase.number = meaning;
        } else if (kind == Slot::Kind::unit) {
            phrase.unit = static_cast<PhraseUnit>(meaning);
        }
    }

    const Language& m_language;
    std::vector<Token> m_tokens;
    std::vector<bool> m_covered; ///< by a phrase that counts
    PhrasesRead m_out;
};

} // namespace

PhrasesRead read_phrases(std::string_view text) {
    const auto& table = phrase_table();
    if (!table || text.size() > longest_text) {
        return {{}, true};
    }
    const std::vector<Token> tokens = Tokeniser(text).read();
    PhrasesRead all;
    for (const Language& language : *table) {
        PhrasesRead read = PhrasesReader(language, tokens).read();
        all.doubtful |= read.doubtful;
        all.phrases.insert(all.phrases.end(), read.phrases.begin(), read.phrases.end());
    }
    if (all.phrases.size() > most_phrases) {
        return {{}, true};
    }
    std::stable_sort(all.phrases.begin(), all.phrases.end(),
                     [](const Phrase& a, const Phrase& b) { return a.begin < b.begin; });
    return all;
}

} // namespace collection
