'use client';

import { Component, type ReactNode } from 'react';
import { Panel } from '@/app/_ui/panel';

interface PanelGuardProps {
  readonly title: string;
  readonly children: ReactNode;
}

/** A panel that fails says so in its own place; the rest of the sheet stays. */
export class PanelGuard extends Component<PanelGuardProps, { readonly hasFailed: boolean }> {
  override state = { hasFailed: false };

  static getDerivedStateFromError() {
    return { hasFailed: true };
  }

  override render() {
    if (!this.state.hasFailed) return this.props.children;
    return (
      <Panel title={this.props.title}>
        <p role="alert">This part could not be shown. Open the sheet again.</p>
      </Panel>
    );
  }
}
