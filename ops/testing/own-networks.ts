/**
 * What is put before a command so that it runs with networks, and with names of networks, that nobody else on the machine sees: they are gone
 * with its last process, however that ends. As root, or where user namespaces are allowed.
 */
export function inNetworksOfItsOwn(command: readonly string[]): string[] {
  const asUser = process.getuid?.() === 0 ? [] : ['--map-root-user']
  const inside = 'mount -t tmpfs tmpfs /run && exec "$@"'
  return ['unshare', ...asUser, '--mount', '--net', '--pid', '--fork', '--kill-child', '--mount-proc', 'sh', '-c', inside, 'sh', ...command]
}
