import type { Shell } from "./shells.ts";

/**
 * What each shell runs. The scripts hold no words: they hand the words of the line to `__complete` and offer what
 * comes back, so that a script installed once fits every later version.
 */
export const COMPLETION_SCRIPTS: Readonly<Record<Shell, string>> = {
  bash: `# Completion of jartally for bash 3.2 and later. Switch it on in this shell with
#   source <(jartally completion bash)
# and for good with that line in ~/.bashrc.

_jartally() {
  local program=\${COMP_WORDS[0]} current prefix='' paths='' quote='' line word raw i
  local -a words=()
  type -- "$program" >/dev/null 2>&1 || program=jartally
  COMPREPLY=()
  # bash also cuts words at = and at :, and the program wants them whole.
  for ((i = 1; i <= COMP_CWORD; i++)); do
    raw=\${COMP_WORDS[i]}
    # Without quotes and backslashes, as the program would be given the word.
    word=\${raw//\\\\/}
    case $word in
      \\"* | \\'*) word=\${word:1} ;;
    esac
    case $word in
      *\\" | *\\') word=\${word%?} ;;
    esac
    case $word in
      '~/'*) word=$HOME/\${word:2} ;;
    esac
    if [[ $i -gt 1 && ( $raw == [=:]* || \${COMP_WORDS[i - 1]} == [=:] ) ]]; then
      words[\${#words[@]} - 1]+=$word
    else
      words[\${#words[@]}]=$word
    fi
  done
  current=\${words[\${#words[@]} - 1]}
  case \${COMP_WORDS[COMP_CWORD]} in
    \\"* | \\'*) quote=1 ;;
  esac
  # What bash has cut off stands on the line already.
  [[ $current == *[=:]* && -z $quote ]] && prefix=\${current%"\${current##*[=:]}"}
  while IFS= read -r line; do
    if [[ -z $paths ]]; then
      paths=$line
      continue
    fi
    word=\${line%%$'\\t'*}
    word=\${word#"$prefix"}
    if [[ -n $quote ]]; then
      # These would mean something else, or end the quotes that are open.
      case $word in
        *[\\"\\'\\$\\\`\\\\!]*) continue ;;
      esac
    elif [[ $paths == none ]]; then
      printf -v word '%q' "$word"
    fi
    COMPREPLY[\${#COMPREPLY[@]}]=$word
  done < <("$program" __complete "\${words[@]}" 2>/dev/null)
  if [[ $paths == files || $paths == folders ]]; then
    compopt -o filenames 2>/dev/null
    [[ $paths == files ]] && raw=-f || raw=-d
    while IFS= read -r line; do
      COMPREPLY[\${#COMPREPLY[@]}]=$line
    done < <(compgen "$raw" -- "\${current#"$prefix"}")
  fi
}

complete -F _jartally jartally
`,
  zsh: `#compdef jartally
# Completion of jartally for zsh. Switch it on in this shell with
#   source <(jartally completion zsh)
# and for good by writing it into a folder of $fpath:
#   jartally completion zsh > ~/.zfunc/_jartally

_jartally() {
  local program=\${(Q)words[1]} line word about
  local -a answer values shown
  (( $+commands[$program] )) || [[ -x $program ]] || program=jartally
  answer=("\${(@f)$($program __complete "\${(@Q)words[2,CURRENT-1]}" "\${(Q)PREFIX}" 2>/dev/null)}")
  for line in "\${(@)answer[2,-1]}"; do
    word=\${line%%$'\\t'*}
    values+=("$word")
    about=\${line#"$word"}
    shown+=("$word\${about:+  -- \${about#$'\\t'}}")
  done
  (( $#values )) && compadd -l -d shown -a -- values
  # The path of --option=path stands behind the equals sign.
  [[ $PREFIX == --*=* ]] && compset -P '--*='
  case $answer[1] in
    files) _files ;;
    folders) _files -/ ;;
  esac
}

if [[ $funcstack[1] == _jartally ]]; then
  _jartally "$@"
else
  compdef _jartally jartally
fi
`,
  fish: `# Completion of jartally for fish. Switch it on in this shell with
#   jartally completion fish | source
# and for good with
#   jartally completion fish > ~/.config/fish/completions/jartally.fish

function __jartally_complete
    set -l words (commandline -opc)
    set -l program $words[1]
    set -e words[1]
    type -q -- $program; or set program jartally
    set -l current (commandline -ct | string unescape)
    set -l answer ($program __complete $words "$current" 2>/dev/null)
    set -l paths $answer[1]
    set -e answer[1]
    for line in $answer
        echo $line
    end
    set -l flag (string match -r -- '^--[^=]*=' "$current")
    set -l part (string replace -r -- '^--[^=]*=' '' "$current")
    switch "$paths"
        case files
            for path in (__fish_complete_path "$part")
                echo "$flag$path"
            end
        case folders
            for path in (__fish_complete_directories "$part")
                echo "$flag$path"
            end
    end
end

complete -c jartally -f -a '(__jartally_complete)'
`,
};
