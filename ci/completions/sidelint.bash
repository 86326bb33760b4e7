# Completion for bash. tests/cli/completions_test.cpp holds it to --help.
# Names of rules and motifs, as the program lists them.
_sidelint_names() {
    sidelint explain 2>/dev/null | sed -n 's/^  \([a-z/-]*\)  .*/\1/p'
}
_sidelint() {
    local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]} command= word words
    for word in "${COMP_WORDS[@]:1:COMP_CWORD-1}"; do
        case $word in check | diff | fix | baseline | merge | solve | draw | verify | hook | explain | init | manual | schema) command=$word && break ;; esac
    done
    case $command:$previous in
    check:--effort | diff:--effort | fix:--effort | baseline:--effort | solve:--effort) words="draft review press" ;;
    check:--detail) words="findings puzzles proofs" ;;
    check:--fail-on) words="error warning note never" ;;
    check:--colour | check:--color | diff:--colour | diff:--color) words="auto always never" ;;
    check:--format) words="text brief json jsonl sarif junit code-quality annotations markdown html part" ;;
    check:--men) words="letters figurines" ;;
    diff:--format) words="text json markdown html annotations" ;;
    explain:--format) words="text markdown json" ;;
    check:--commit | check:--config-from) words="HEAD $(git for-each-ref --format='%(refname:short)' 2>/dev/null)" ;;
    check:--against) words="auto HEAD~1 $(git for-each-ref --format='%(refname:short)' 2>/dev/null)" ;;
    *:--config | *:--only | *:--as | check:--cache | check:--baseline | solve:--certificate) COMPREPLY=() && return ;; # a file
    *:--rule) words=$(_sidelint_names | sed -n '/\//s/$/=/p') && compopt -o nospace ;;
    check:--why) words=$(sed -n 's/^ *- *id: *"\{0,1\}\([^" ]*\).*/\1/p' ./*.yaml 2>/dev/null) ;;
    *:--jobs | check:--shard | check:--limit | check:--bear-warnings | check:--sarif-category | fix:--apply | baseline:--reason | solve:--goal | solve:--key | solve:--solution) words= ;;
    check:*)
        [[ $current == -* ]] || return # a path
        words="--help --staged --commit --against --format --detail --fail-on --effort --jobs --rule --config
            --config-from --baseline --strict-baseline --cache --no-cache --shard --colour --color --overview --men --limit
            --sarif-category --sarif-all --allow-empty --trust-repository --quiet --or-all --as --bear-warnings
            --allowed-too --excluded-too --why --show-config"
        ;;
    diff:*)
        words="--help --staged --only --format --effort --jobs --rule --config --excluded-too --trust-repository --colour --color
            auto HEAD~1 $(git for-each-ref --format='%(refname:short)' 2>/dev/null)"
        ;;
    baseline:*)
        [[ $current == -* || $previous == baseline ]] || return # a file
        words="accept prune merge --help --reason --only --effort --jobs --rule --config --excluded-too --trust-repository"
        ;;
    fix:*)
        [[ $current == -* ]] || return # a path
        words="--help --preview --staged --apply --fail-if-changed --effort --jobs --rule --config --allow-empty
            --as --excluded-too --trust-repository --quiet"
        ;;
    merge:*)
        [[ $current == -* ]] || return # a file
        words="--help --format --detail --fail-on --bear-warnings --colour --color --overview --men --limit --sarif-category --sarif-all --quiet"
        ;;
    solve:*) words="--help --goal --key --solution --effort --certificate" ;;
    draw:--below) words="white black" ;;
    draw:*) words="--help --arrow --mark --below" ;;
    verify:*)
        [[ $current == -* ]] || return # a file
        words="--help"
        ;;
    hook:add | hook:remove | hook:run) words="pre-commit pre-push pre-receive" ;;
    hook:*) words="--help add remove run" ;;
    explain:*) words="--help --all --format $(_sidelint_names)" ;;
    init:* | manual:*) words="--help" ;;
    schema:*) words="--help config report changes" ;;
    *) words="--help --version check diff fix baseline merge solve draw verify hook explain init manual schema" ;;
    esac
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$current")
}
complete -o default -F _sidelint sidelint
