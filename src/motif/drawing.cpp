#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Move;
using board::Position;

/// The checks the solver can give for ever: a graph of positions with the solver to move, joined by check and
/// reply. A position leaves it when no check is left after which every reply stays inside (or which mates).
class CheckGraph {
  public:
    /// Proved when `root` survives; a graph that outgrows the bound proves nothing.
    static bool endless(const Position& root) {
        CheckGraph graph;
        graph.grow(root);
        graph.prune();
        return graph.m_nodes.front().alive;
    }

  private:
    static constexpr std::size_t node_limit = 600;
    static constexpr std::size_t outside = node_limit; ///< a reply that was not followed

    struct Node {
        Position position;
        std::vector<std::vector<std::size_t>> checks; ///< a check: where its replies lead
        bool alive = true;
    };

    std::size_t node_of(const Position& position) {
        for (std::size_t i = 0; i < m_nodes.size(); ++i) {
            if (m_nodes[i].position.hash() == position.hash() && m_nodes[i].position.same_as(position)) {
                return i;
            }
        }
        if (m_nodes.size() == node_limit) {
            return outside;
        }
        m_nodes.push_back({position, {}, true});
        return m_nodes.size() - 1;
    }

    void grow(const Position& root) {
        m_nodes.push_back({root, {}, true});
        for (std::size_t i = 0; i < m_nodes.size(); ++i) {
            const Position position = m_nodes[i].position;
            for (const Move check : position.legal_moves()) {
                if (!position.gives_check(check) || position.is_capture(check)) {
                    continue;
                }
                const Position checked = position.after(check);
                std::vector<std::size_t> replies;
                for (const Move reply : checked.legal_moves()) {
                    replies.push_back(node_of(checked.after(reply)));
                }
                m_nodes[i].checks.push_back(std::move(replies));
            }
        }
    }

    void prune() {
        const auto inside = [&](std::size_t node) { return node != outside && m_nodes[node].alive; };
        bool changed = true;
        while (changed) {
            changed = false;
            for (Node& node : m_nodes) {
                const bool holds =
                    std::any_of(node.checks.begin(), node.checks.end(), [&](const auto& replies) {
                        return std::all_of(replies.begin(), replies.end(), inside);
                    });
                if (node.alive && !holds) {
                    node.alive = false;
                    changed = true;
                }
            }
        }
    }

    std::vector<Node> m_nodes;
};

/// The first ply of the solver from which he only checks, if a position comes back after it.
std::optional<std::size_t> repeating_checks(const Study& study) {
    std::size_t first = study.plies() - study.plies() % 2;
    while (first >= 2 && study.gives_check(first - 2)) {
        first -= 2;
    }
    for (std::size_t n = first; n <= study.plies(); ++n) {
        for (std::size_t m = n + 4; m <= study.plies(); m += 2) {
            if (study.at(n).hash() == study.at(m).hash() && study.at(n).same_as(study.at(m))) {
                return first;
            }
        }
    }
    return std::nullopt;
}

/// Whatever else the defender could play before the stalemate, the solver does not lose.
bool declining_holds(const Study& study, std::size_t reply) {
    const Position& position = study.at(reply);
    if (position.count_legal_moves() == 1) {
        return true;
    }
    return study.solver().reaches(position, study.us(), solve::Aim::hold()).answer == solve::Answer::yes;
}

} // namespace

void detect_perpetual_check(const Study& study, Found& found) {
    const auto first = repeating_checks(study);
    if (!first) {
        return;
    }
    const bool endless = CheckGraph::endless(study.at(*first));
    found.push_back({"perpetual-check",
                     *first,
                     endless ? Level::decisive : Level::seen,
                     solve::Certainty::proved,
                     {study.at(*first).king(study.them())},
                     "every move is a check, and the position comes back"});
}

void detect_stalemate_resource(const Study& study, Found& found) {
    if (!study.last().is_stalemate() || study.last().turn() != study.us() || study.plies() < 2) {
        return;
    }
    const std::size_t reply = study.plies() - 1;
    const bool forced = declining_holds(study, reply);
    found.push_back({"stalemate-resource",
                     reply - 1,
                     forced ? Level::decisive : Level::seen,
                     solve::Certainty::searched,
                     {study.last().king(study.us())},
                     "the solver has no legal move and is not in check"});
}

} // namespace motif
