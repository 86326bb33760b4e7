#pragma once
// YAML by the events of libyaml: small trees with places. Aliases are never followed.

#include "collection/puzzle.hpp"
#include "collection/source.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace collection {

struct YamlNode {
    enum class Kind : std::uint8_t { scalar, sequence, mapping };
    Kind kind = Kind::scalar;
    bool plain = false; ///< scalar without quotes
    MappedText scalar;
    Span span;                   ///< of the whole node, without blanks at its end
    std::vector<YamlNode> items; ///< of a sequence; of a mapping: key, value, key, value ...

    /// Nothing said: an empty plain scalar, "~" or "null".
    [[nodiscard]] bool is_null() const;
};

struct YamlEvent {
    enum class Kind : std::uint8_t {
        none,
        scalar,
        sequence_start,
        sequence_end,
        mapping_start,
        mapping_end,
        stream_end
    };
    Kind kind = Kind::none;
    bool plain = false; ///< scalar without quotes
    Span span;
    MappedText scalar;
};

/// Reads a stretch of YAML. Document ends are passed over. After a fault nothing more comes.
class YamlStream {
  public:
    YamlStream(std::string_view document, Span part);
    ~YamlStream();
    YamlStream(const YamlStream&) = delete;
    YamlStream& operator=(const YamlStream&) = delete;

    [[nodiscard]] YamlEvent next();
    /// The node that `first` begins; nothing when the text breaks off in it.
    [[nodiscard]] std::optional<YamlNode> node(YamlEvent first);
    /// What ended the stream, when it was no proper end.
    [[nodiscard]] const std::optional<Fault>& broken() const { return m_broken; }
    /// Anchors and aliases met since the last call.
    [[nodiscard]] std::vector<Fault> take_faults();

  private:
    struct Parser;

    YamlEvent::Kind read_event(YamlEvent& event);
    void read_scalar(YamlEvent& event);
    void refuse_anchor();
    void stop(Fault fault);
    Fault problem();
    std::size_t offset(std::size_t index);

    std::string_view m_document;
    Span m_part;
    bool m_single_bytes = false; ///< a character is a byte
    std::size_t m_index = 0;     ///< characters up to m_offset
    std::size_t m_offset = 0;    ///< bytes into the document
    std::string m_copy;          ///< what libyaml reads when it would refuse the bytes themselves
    std::vector<Fault> m_faults;
    std::optional<Fault> m_broken;
    std::unique_ptr<Parser> m_parser;
};

} // namespace collection
